/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

/* Steps of 8 N·m with the given rises, so that the mean slopes are 8 N·m over the rise. */
static void
add_rises (Measured *m, const double *rise_s, gsize n, double interval_s)
{
  for (gsize k = 0; k < n; k++) {
    MadeLog log = make_step_log (m->made, 1200, 200, interval_s, 8);
    log.torque = make_column (m->made, log.n);
    log.velocity = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++) {
      log.torque[i] = ramp (log.t[i], 0.002, 0.002 + rise_s[k], 0, 8);
      log.velocity[i] = ramp (log.t[i], 0, 0.02, 0, 40 + 2 * (double) k);
    }
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
  }
}

static const SbMeasureSummary *
summarize (Measured *m, SbMeasureId id)
{
  sb_summary_unref (m->summary);
  m->summary = sb_summary_new ((SbMeasures *const *) m->all->pdata, m->all->len, m->ensemble);
  return &m->summary->measure[id];
}

/* Slopes 1000, 2000 and 4000 N·m/s by hand: mean 2333.333, s = √(7000000 / 3) = 1527.525, t(0.975; 2) = 4.302653
 * (any table of Student's t), half width 4.302653 * 1527.525 / √3 = 3794.58; u = s / √3 = 881.917 (GUM 4.2.3);
 * repeatability 2.8 s = 4277.071 (ISO 5725-6, the factor from memory: 1.96 √2 rounded). */
static void
mean_sd_and_interval_are_those_of_the_gum (void **state)
{
  Measured *m = *state;
  static const double rises[] = { 8e-3, 4e-3, 2e-3 };
  add_rises (m, rises, 3, 1e-4);
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_true (s->present);
  assert_int_equal (s->n, 3);
  assert_int_equal (s->n_absent, 0);
  assert_close (s->mean, 7000.0 / 3, 1e-5);
  assert_close (s->sd, 1527.5252, 1e-3);
  assert_close (s->ci95[1] - s->mean, 3794.58, 0.02);
  assert_close (s->mean - s->ci95[0], 3794.58, 0.02);
  assert_close (s->standard_uncertainty, 881.9171, 1e-3);
  assert_close (s->repeatability, 4277.0706, 1e-3);
  assert_null (s->doubts);
}

static void
single_trial_has_a_mean_and_no_spread (void **state)
{
  Measured *m = *state;
  static const double rises[] = { 4e-3 };
  add_rises (m, rises, 1, 1e-4);
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_close_relative (s->mean, 2000, 1e-9);
  assert_true (isnan (s->sd) && isnan (s->ci95[0]) && isnan (s->ci95[1]));
  assert_true (isnan (s->standard_uncertainty) && isnan (s->repeatability));
  assert_false (m->summary->measure[SB_MEASURE_VELOCITY_DEVIATION].present);
  assert_non_null (strstr (m->summary->measure[SB_MEASURE_VELOCITY_DEVIATION].absent_reason, "two trials"));
}

static void
two_trials_with_a_doubt_are_both (void **state)
{
  Measured *m = *state;
  static const double rises[] = { 2e-3, 2e-3 };
  add_rises (m, rises, 2, 1e-3);
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_true (g_str_has_prefix (sb_doubts_get (s->doubts, 0)->text, "in both trials: under-resolved: "));
}

/* A response of damping ratio 0.7 and 0.1 % noise: ten repeats that are alike but for their noise. The largest torque
 * of the formula, 1 + Mp, is outside the interval of the mean, by less than 1 % of it: that has to be said. */
static void
bias_beyond_the_interval_is_a_doubt (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 3 };
  for (int k = 0; k < 10; k++) {
    MadeLog log = make_second_order (m->made, 0.7, 250, 10, 400, 1600, 2.5e-4);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] += 0.01 * made_normal (&noise);
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
  }
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_PEAK_TORQUE);
  double truth = 10 * (1 + exp (-G_PI * 0.7 / sqrt (1 - 0.49)));
  assert_true (s->ci95[0] > truth && s->mean < 1.01 * truth);
  assert_int_equal (s->doubts->len, 1);
  assert_true (g_str_has_prefix (sb_doubts_get (s->doubts, 0)->text, "raised by noise: by about"));
  assert_in_range (100 * s->bias / (s->mean - truth), 50, 200);
}

/* A drive that waits 4 ms and rises by 1 N·m/ms to 10 N·m comes to 10 % 5 ms after its command, which jumps anywhere in
 * the 0.25 ms before its first sample: the mean is 5 ms less half of that, and its interval leaves out the truth. */
static void
time_from_a_jump_that_its_interval_misses_is_coarse (void **state)
{
  Measured *m = *state;
  for (int k = 0; k < 10; k++) {
    double before_s = 2.5e-4 * (k + 0.5) / 10;
    MadeLog log = make_step_log (m->made, 600, 200, 2.5e-4, 10);
    log.torque = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] = ramp (log.t[i], 0.004 - before_s, 0.014 - before_s, 0, 10);
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
  }
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_DEAD_TIME);
  assert_close (s->mean, 0.005 - 1.25e-4, 1e-8);
  assert_true (s->ci95[1] < 0.005);
  assert_close (s->by_late_onset, 2.5e-4, 1e-9);
  assert_int_equal (sb_doubts_get (s->doubts, 0)->kind, SB_DOUBT_COARSE);
  assert_non_null (
      strstr (sb_doubts_get (s->doubts, 0)->text,
              "one sample interval of 0.25 ms before the onset, so that the true figure is larger by up to "
              "0.25 ms, on average by half"));
  assert_true (sb_doubts_have (summarize (m, SB_MEASURE_SETTLING_TIME)->doubts, SB_DOUBT_COARSE));
  assert_null (summarize (m, SB_MEASURE_TORQUE_TRANSITION_TIME)->doubts); /* it does not count from the onset */
}

/* Dead times of 2.6 ms in three repeats and of 2.4 ms, of which the interval of 0.25 ms is more than a tenth, in two:
 * one note stands for the figure, that of the mean, whose interval is ± 0.14 ms (t = 2.776, s = 0.11 ms, n = 5). */
static void
mean_that_is_coarse_speaks_for_its_repeats (void **state)
{
  Measured *m = *state;
  for (int k = 0; k < 5; k++) {
    double waits_s = k < 3 ? 1.6e-3 : 1.4e-3; /* 1 ms more to 10 % */
    MadeLog log = make_step_log (m->made, 600, 200, 2.5e-4, 10);
    log.torque = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] = ramp (log.t[i], waits_s, waits_s + 0.01, 0, 10);
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
  }
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_DEAD_TIME);
  guint n_coarse = 0;
  for (guint d = 0; d < sb_doubts_count (s->doubts); d++)
    n_coarse += sb_doubts_get (s->doubts, d)->kind == SB_DOUBT_COARSE ? 1 : 0;
  assert_int_equal (n_coarse, 1);
}

static void
doubts_of_one_kind_are_told_once (void **state)
{
  Measured *m = *state;
  static const double rises[] = { 8e-3, 2e-3, 1e-3 }; /* at 1 ms: 6, 1 and 0 or 1 samples between 10 % and 90 % */
  add_rises (m, rises, 3, 1e-3);
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_int_equal (s->doubts->len, 1);
  assert_true (g_str_has_prefix (sb_doubts_get (s->doubts, 0)->text, "in 2 of 3 trials: under-resolved: "));
}

static void
missing_trials_are_counted_with_the_reason (void **state)
{
  Measured *m = *state;
  static const double rises[] = { 4e-3, 4e-3 };
  add_rises (m, rises, 2, 1e-4);
  MadeLog log = make_step_log (m->made, 1200, 200, 1e-4, 8);
  log.torque = make_column (m->made, log.n);
  g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_int_equal (s->n, 2);
  assert_int_equal (s->n_absent, 1);
  assert_true (g_str_has_prefix (sb_doubts_get (s->doubts, 0)->text, "missing in 1 of 3 trials: no torque step"));
}

/* The same ringing of 50 Hz, of a log with a torque and of one with nothing but a velocity. */
static void
ringing_of_different_signals_has_no_mean (void **state)
{
  Measured *m = *state;
  for (int k = 0; k < 2; k++) {
    MadeLog log = make_second_order (m->made, 0.05, 2 * G_PI * 50, 8, 200, 3000, 1e-4);
    if (k == 1) {
      log.velocity = log.torque;
      log.torque = NULL;
    }
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
    const SbMeasureSummary *one = summarize (m, SB_MEASURE_RINGING_FREQUENCY);
    if (k == 0) {
      assert_true (one->present);
      assert_int_equal (one->channel, SB_CHANNEL_TORQUE);
    }
  }
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_RINGING_FREQUENCY);
  assert_false (s->present);
  assert_int_equal (s->n_absent, 2);
  assert_non_null (strstr (s->absent_reason, "different signals"));
}

static void
no_trial_at_all_is_a_reason (void **state)
{
  Measured *m = *state;
  for (int id = 0; id < SB_N_MEASURES; id++) {
    const SbMeasureSummary *s = summarize (m, (SbMeasureId) id);
    assert_false (s->present);
    assert_string_equal (s->absent_reason, "no trial is included");
  }
}

/* Velocities 40 and 42 rad/s times one ramp r(t), 0.02 s long, held to 0.0999 s: s(t) = √2 r(t), so the deviation is
 * √(2 (0.02 / 3 + 0.0799) / 0.0999); the trapezoid over 0.1 ms steps is good to 1e-5. */
static void
velocity_deviation_is_the_size_of_the_band (void **state)
{
  Measured *m = *state;
  static const double rises[] = { 4e-3, 4e-3 };
  add_rises (m, rises, 2, 1e-4);
  m->ensemble = sb_ensemble_new ((SbTrial *const *) m->made->trials->pdata, 2, SB_SPAN_COMMON, ~0u);
  const SbMeasureSummary *s = summarize (m, SB_MEASURE_VELOCITY_DEVIATION);
  assert_true (s->present);
  assert_int_equal (s->n, 2);
  assert_close (s->mean, sqrt (2 * (0.02 / 3 + 0.0799) / 0.0999), 1e-4);
  assert_close (sb_summary_rounding (s), s->mean / sqrt (2), 1e-12); /* GUM E.4.3, n = 2 */
  assert_true (isnan (s->sd));
}

static const char *
doubt_of_kind (const SbMeasureSummary *s, const char *kind)
{
  for (guint i = 0; s->doubts != NULL && i < s->doubts->len; i++)
    if (g_str_has_prefix (sb_doubts_get (s->doubts, i)->text, kind))
      return sb_doubts_get (s->doubts, i)->text;
  return NULL;
}

/* `n` repeats of one ramp to 40, 42, 44, ... rad/s, with noise of this standard deviation. */
static const SbMeasureSummary *
deviation_of_noisy (Measured *m, gsize n, double noise_sd)
{
  MadeNoise noise = { 11 };
  for (gsize k = 0; k < n; k++) {
    MadeLog log = make_step_log (m->made, 1200, 200, 1e-4, 8);
    log.velocity = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++)
      log.velocity[i] = ramp (log.t[i], 0, 0.02, 0, 40 + 2 * (double) k) + noise_sd * made_normal (&noise);
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
  }
  m->ensemble = sb_ensemble_new ((SbTrial *const *) m->made->trials->pdata, n, SB_SPAN_COMMON, ~0u);
  return summarize (m, SB_MEASURE_VELOCITY_DEVIATION);
}

/* 40, 42, 44 and 46 have a variance of 20/3: without noise √(20/3 (0.02 / 3 + 0.0799) / 0.0999), as above. Noise of
 * 1.5 rad/s adds 2.25 to the variance at each instant; from 800 instants and as many samples before the onset that is
 * known to some 3 %, and what is left without it to 5 %. */
static void
noise_in_the_deviation_is_told (void **state)
{
  Measured *m = *state;
  double clean = sqrt (20.0 / 3 * (0.02 / 3 + 0.0799) / 0.0999);
  const SbMeasureSummary *s = deviation_of_noisy (m, 4, 1.5);
  assert_close_relative (s->mean, sqrt (clean * clean + 2.25), 0.03);
  assert_close_relative (s->mean - s->bias, clean, 0.05);
  assert_non_null (doubt_of_kind (s, "raised by noise: "));
  assert_null (doubt_of_kind (s, "few repeats: "));
}

/* 1/√(2(n - 1)), the relative standard deviation of that of a normal sample: 71 % of two. Noise of a hundredth of the
 * scatter is in its last digits. */
static void
deviation_of_two_repeats_is_hardly_known (void **state)
{
  const SbMeasureSummary *s = deviation_of_noisy (*state, 2, 0.01);
  assert_null (doubt_of_kind (s, "raised by noise: "));
  assert_non_null (strstr (doubt_of_kind (s, "few repeats: "), "about 71 %"));
}

/* They end 99.9 ms and 69.9 or 98.9 ms after the onset. */
static void
mean_over_windows_of_unequal_length_is_doubted (void **state)
{
  Measured *m = *state;
  static const gsize lengths[] = { 1200, 1190, 900 };
  for (gsize k = 0; k < G_N_ELEMENTS (lengths); k++) {
    MadeLog log = make_step_log (m->made, lengths[k], 200, 1e-4, 8);
    log.velocity = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++)
      log.velocity[i] = ramp (log.t[i], 0, 0.02, 0, 40);
    g_ptr_array_add (m->all, sb_measures_new (make_trial (m->made, &log, NULL), NULL));
    const char *doubt = doubt_of_kind (summarize (m, SB_MEASURE_MEAN_VELOCITY), "windows of unequal length: ");
    if (k < 2)
      assert_null (doubt);
    else
      assert_non_null (strstr (doubt, "they end 69.9 to 99.9 ms after the onset"));
    assert_null (doubt_of_kind (&m->summary->measure[SB_MEASURE_PEAK_VELOCITY], "windows of unequal length: "));
  }
}

static const SbMeasureSummary *
summarize_values (Measured *m, const double *values, gsize n)
{
  static SbMeasures trials[16];
  SbMeasures *list[16];
  for (gsize i = 0; i < n; i++) {
    trials[i].measure[SB_MEASURE_PEAK_TORQUE] = (SbMeasure){ .present = TRUE, .value = values[i] };
    list[i] = &trials[i];
  }
  sb_summary_unref (m->summary);
  m->summary = sb_summary_new (list, n, NULL);
  return &m->summary->measure[SB_MEASURE_PEAK_TORQUE];
}

static gboolean
is_told_dependent (const SbMeasureSummary *s)
{
  return s->doubts != NULL && g_str_has_prefix (sb_doubts_get (s->doubts, 0)->text, "repeats not independent: ");
}

/* 1, 2, .. 12 about 6.5: sums of neighbours' products over the sum of squares 143 are 107.25/143 = 0.75 by hand;
 * chance has it at -1/12 within 10/(12 √11) = 0.2513: 3.3 of these away. */
static void
repeats_that_follow_one_another_are_told (void **state)
{
  double values[12];
  for (int i = 0; i < 12; i++)
    values[i] = 1 + i;
  const SbMeasureSummary *s = summarize_values (*state, values, 12);
  assert_close (s->lag1, 0.75, 1e-14);
  assert_true (is_told_dependent (s));
  assert_true (isnan (summarize_values (*state, values, 9)->lag1));
}

/* Three standard deviations: of independent repeats fewer than one set in a hundred may be told. */
static void
independent_repeats_are_hardly_ever_told (void **state)
{
  MadeNoise noise = { 53 };
  gsize n_told = 0;
  double mean = 0, squares = 0;
  enum { SETS = 4000 };
  for (int k = 0; k < SETS; k++) {
    double values[10];
    for (int i = 0; i < 10; i++)
      values[i] = 5 + made_normal (&noise);
    const SbMeasureSummary *s = summarize_values (*state, values, 10);
    n_told += is_told_dependent (s) ? 1 : 0;
    mean += s->lag1 / SETS;
    squares += s->lag1 * s->lag1 / SETS;
  }
  assert_true (n_told < SETS / 100);
  assert_close (mean, -0.1, 0.015);                            /* -1/n */
  assert_close (sqrt (squares - mean * mean), 8.0 / 30, 0.01); /* (n - 2) / (n √(n - 1)) */
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (mean_sd_and_interval_are_those_of_the_gum),
    T (single_trial_has_a_mean_and_no_spread),
    T (bias_beyond_the_interval_is_a_doubt),
    T (time_from_a_jump_that_its_interval_misses_is_coarse),
    T (mean_that_is_coarse_speaks_for_its_repeats),
    T (doubts_of_one_kind_are_told_once),
    T (two_trials_with_a_doubt_are_both),
    T (missing_trials_are_counted_with_the_reason),
    T (no_trial_at_all_is_a_reason),
    T (repeats_that_follow_one_another_are_told),
    T (independent_repeats_are_hardly_ever_told),
    T (ringing_of_different_signals_has_no_mean),
    T (velocity_deviation_is_the_size_of_the_band),
    T (noise_in_the_deviation_is_told),
    T (deviation_of_two_repeats_is_hardly_known),
    T (mean_over_windows_of_unequal_length_is_doubted),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
