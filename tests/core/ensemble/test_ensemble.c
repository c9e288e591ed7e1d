/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mean curves on the common grid: facts by algebra, and a slow twin that searches every sample for every point. */
#include "repeats.h"

#include <string.h>

#define TORQUE   SB_CHANNEL_TORQUE
#define VELOCITY SB_CHANNEL_VELOCITY

static double
ramp (double tau_s, double parameter)
{
  return 2 + 3 * tau_s;
}

static double
constant (double tau_s, double parameter)
{
  return parameter;
}

static double
slanted (double tau_s, double parameter)
{
  return parameter * tau_s;
}

static double
wave (double tau_s, double parameter)
{
  return sin (40 * tau_s + parameter);
}

/* Linear interpolation loses nothing on a straight line, wherever the samples lie. */
static void
ramps_with_different_onsets_and_sampling_average_to_the_ramp (void **state)
{
  Repeats *r = *state;
  for (int i = 0; i < 7; i++)
    repeats_add (r, &(Repeat){ .onset_s = 0.3 + 1.7 * i,
                               .begin_s = -0.1,
                               .end_s = 0.4,
                               .interval_s = 0.001,
                               .shift_s = 0.00013 * i,
                               .torque = ramp });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_int_equal (e->n_trials, 7);
  assert_true (e->n_points >= 499);
  for (gsize k = 0; k < e->n_points; k++) {
    assert_close (e->curve[TORQUE]->mean[k], ramp (grid_time_s (e, k), 0), 1e-12);
    assert_close (e->curve[TORQUE]->sd[k], 0, 1e-12);
  }
}

static void
mean_of_one_trial_equals_the_trial (void **state)
{
  Repeats *r = *state;
  SbTrial *trial = repeats_add (r, &(Repeat){ .onset_s = 0.5,
                                              .begin_s = -0.05,
                                              .end_s = 0.2,
                                              .interval_s = 0.0005,
                                              .torque = wave,
                                              .velocity = slanted,
                                              .parameter = 2 });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_int_equal (e->n_points, trial->n_samples);
  assert_int_equal (e->first, -100);
  for (gsize k = 0; k < e->n_points; k++) {
    assert_close (e->curve[TORQUE]->mean[k], trial->signal[TORQUE][k], 0);
    assert_close (e->curve[VELOCITY]->mean[k], trial->signal[VELOCITY][k], 0);
    assert_close (e->curve[TORQUE]->lowest[k], trial->signal[TORQUE][k], 0);
    assert_close (e->curve[TORQUE]->highest[k], trial->signal[TORQUE][k], 0);
    assert_true (isnan (e->curve[TORQUE]->sd[k]));
  }
}

static void
the_onset_is_a_grid_point (void **state)
{
  Repeats *r = *state;
  repeats_add (
      r,
      &(Repeat){
          .onset_s = 0.77777, .begin_s = -0.05, .end_s = 0.2, .interval_s = 0.001, .shift_s = 0.0004, .torque = ramp });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_true (e->first < 0);
  assert_close (e->curve[TORQUE]->mean[-e->first], ramp (0, 0), 1e-12);
}

static void
two_rates_give_the_larger_step (void **state)
{
  Repeats *r = *state;
  repeats_add (r, &(Repeat){ .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.0005, .torque = ramp });
  repeats_add (r, &(Repeat){ .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.002, .torque = ramp });
  repeats_add (r, &(Repeat){ .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.001, .torque = ramp });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_close (e->grid_step_s, 0.002, 0);
  assert_int_equal (e->n_trials, 3);
  assert_int_equal (e->first, -50);
  assert_int_equal (e->n_points, 251);
}

/* Grid points at multiples of 10 ms: -10..100 and -5..80. */
static void
two_spans (Repeats *r)
{
  repeats_add (
      r,
      &(Repeat){ .onset_s = 2, .begin_s = -0.1, .end_s = 1, .interval_s = 0.01, .torque = constant, .parameter = 1 });
  repeats_add (
      r, &(Repeat){
             .onset_s = 3, .begin_s = -0.05, .end_s = 0.8, .interval_s = 0.01, .torque = constant, .parameter = 5 });
}

static void
common_span_is_what_all_trials_cover (void **state)
{
  Repeats *r = *state;
  two_spans (r);
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_int_equal (e->first, -5);
  assert_int_equal (e->n_points, 86);
  assert_null (e->count);
  for (gsize k = 0; k < e->n_points; k++) {
    assert_close (e->curve[TORQUE]->mean[k], 3, 0);
    assert_close (e->curve[TORQUE]->sd[k], sqrt (8), 1e-15);
    assert_close (e->curve[TORQUE]->lowest[k], 1, 0);
    assert_close (e->curve[TORQUE]->highest[k], 5, 0);
  }
  assert_close (e->active_end_s, 0.8, 1e-12);
}

static void
assert_union_of_two_spans (const SbEnsemble *e)
{
  assert_int_equal (e->first, -10);
  assert_int_equal (e->n_points, 111);
  for (gsize k = 0; k < e->n_points; k++) {
    gboolean both = k >= 5 && k <= 90;
    assert_int_equal (e->count[k], both ? 2 : 1);
    assert_close (e->curve[TORQUE]->mean[k], both ? 3 : 1, 0);
    assert_close (e->curve[TORQUE]->sd[k], both ? sqrt (8) : (double) NAN, 1e-15);
    assert_close (e->curve[TORQUE]->highest[k], both ? 5 : 1, 0);
  }
}

static void
union_span_counts_the_trials_at_each_point (void **state)
{
  Repeats *r = *state;
  two_spans (r);
  assert_union_of_two_spans (repeats_average (r, SB_SPAN_UNION));
}

static void
union_span_grows_when_the_short_trial_comes_first (void **state)
{
  Repeats *r = *state;
  two_spans (r);
  SbTrial *turned[] = { g_ptr_array_index (r->trials, 1), g_ptr_array_index (r->trials, 0) };
  r->ensemble = sb_ensemble_new (turned, 2, SB_SPAN_UNION, ALL_CHANNELS);
  assert_union_of_two_spans (r->ensemble);
}

/* The second log begins 10 s after its onset. */
static void
apart_in_time (Repeats *r)
{
  repeats_add (r, &(Repeat){ .onset_s = 2, .begin_s = 0, .end_s = 0.5, .interval_s = 0.01, .torque = ramp });
  repeats_add (r, &(Repeat){ .onset_s = 2, .begin_s = 1, .end_s = 1.5, .interval_s = 0.01, .torque = ramp });
}

static void
trials_with_no_time_in_common_have_no_points (void **state)
{
  Repeats *r = *state;
  double lower, upper;
  apart_in_time (r);
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_int_equal (e->n_trials, 2);
  assert_int_equal (e->n_points, 0);
  assert_true (isnan (sb_ensemble_deviation (e, TORQUE)));
  assert_true (sb_ensemble_band (e, TORQUE, SB_BAND_SD, 1, &lower, &upper));
}

static void
union_of_trials_apart_has_a_hole_without_values (void **state)
{
  Repeats *r = *state;
  apart_in_time (r);
  SbEnsemble *e = repeats_average (r, SB_SPAN_UNION);
  assert_int_equal (e->n_points, 151);
  for (gsize k = 0; k < e->n_points; k++) {
    gboolean hole = k > 50 && k < 100;
    assert_int_equal (e->count[k], hole ? 0 : 1);
    assert_close (e->curve[TORQUE]->mean[k], hole ? (double) NAN : ramp (grid_time_s (e, k), 0), 1e-12);
  }
}

static void
a_channel_that_one_trial_lacks_has_no_curve (void **state)
{
  Repeats *r = *state;
  repeats_add (
      r,
      &(Repeat){ .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.01, .torque = ramp, .velocity = ramp });
  repeats_add (r, &(Repeat){ .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.01, .velocity = ramp });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_null (e->curve[TORQUE]);
  assert_null (e->curve[SB_CHANNEL_TIME]);
  assert_null (e->curve[SB_CHANNEL_ANGLE]);
  assert_non_null (e->curve[VELOCITY]);
  assert_true (isnan (sb_ensemble_deviation (e, TORQUE)));
  r->second = sb_ensemble_new ((SbTrial *const *) r->trials->pdata, 2, SB_SPAN_COMMON, 1u << SB_CHANNEL_COMMAND);
  assert_null (r->second->curve[VELOCITY]);
  assert_non_null (r->second->curve[SB_CHANNEL_COMMAND]);
}

static void
builder_refuses_a_coarser_trial_and_stays_as_it_was (void **state)
{
  Repeats *r = *state;
  SbTrial *fine = repeats_add (
      r, &(Repeat){
             .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.001, .torque = constant, .parameter = 4 });
  SbTrial *coarse = repeats_add (
      r, &(Repeat){
             .onset_s = 1, .begin_s = -0.1, .end_s = 0.2, .interval_s = 0.002, .torque = constant, .parameter = 9 });
  SbEnsembleBuilder *builder = sb_ensemble_builder_new (0.001, SB_SPAN_COMMON, ALL_CHANNELS, TRUE);
  gboolean took_fine = sb_ensemble_builder_add (builder, fine), took_coarse = sb_ensemble_builder_add (builder, coarse);
  r->ensemble = sb_ensemble_builder_finish (builder);
  assert_true (took_fine);
  assert_false (took_coarse);
  assert_int_equal (r->ensemble->n_trials, 1);
  assert_int_equal (r->ensemble->n_points, 501);
  assert_int_equal (r->ensemble->kept->len, 1);
  assert_close (r->ensemble->curve[TORQUE]->mean[0], 4, 0);
}

static void
nothing_added_gives_nothing (void **state)
{
  assert_null (sb_ensemble_builder_finish (sb_ensemble_builder_new (0.001, SB_SPAN_COMMON, ALL_CHANNELS, TRUE)));
  assert_null (sb_ensemble_new (NULL, 0, SB_SPAN_COMMON, ALL_CHANNELS));
}

static void
add_waves (Repeats *r)
{
  for (int i = 0; i < 5; i++)
    repeats_add (r, &(Repeat){ .onset_s = 0.3 + 1.7 * i,
                               .begin_s = -0.05,
                               .end_s = 0.6,
                               .interval_s = 0.001 - 7e-5 * i,
                               .shift_s = 0.00017 * i,
                               .torque = wave,
                               .parameter = 0.1 * i });
}

static void
the_same_order_gives_the_same_bytes_and_any_order_the_same_curve (void **state)
{
  Repeats *r = *state;
  add_waves (r);
  SbTrial **t = (SbTrial **) r->trials->pdata;
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  r->second = sb_ensemble_new (t, 5, SB_SPAN_COMMON, ALL_CHANNELS);
  assert_memory_equal (e->curve[TORQUE]->mean, r->second->curve[TORQUE]->mean, e->n_points * sizeof (double));
  assert_memory_equal (e->curve[TORQUE]->sd, r->second->curve[TORQUE]->sd, e->n_points * sizeof (double));
  sb_ensemble_unref (g_steal_pointer (&r->second));

  SbTrial *turned[] = { t[3], t[0], t[4], t[2], t[1] };
  r->second = sb_ensemble_new (turned, 5, SB_SPAN_COMMON, ALL_CHANNELS);
  assert_int_equal (r->second->first, e->first);
  assert_int_equal (r->second->n_points, e->n_points);
  for (gsize k = 0; k < e->n_points; k++) {
    assert_close (r->second->curve[TORQUE]->mean[k], e->curve[TORQUE]->mean[k], 1e-15);
    assert_close (r->second->curve[TORQUE]->sd[k], e->curve[TORQUE]->sd[k], 1e-14);
  }
}

/* Looks through all samples for those on either side. */
static double
slow_value (const SbTrial *trial, double tau_s)
{
  double target = trial->onset_s + tau_s;
  for (gsize i = 1; i < trial->n_samples; i++) {
    const double *t = trial->time_s + i - 1, *y = trial->signal[TORQUE] + i - 1;
    if (t[0] <= target && target <= t[1])
      return y[0] + (target - t[0]) / (t[1] - t[0]) * (y[1] - y[0]);
  }
  return NAN;
}

static void
mean_and_sd_equal_a_slow_twin (void **state)
{
  Repeats *r = *state;
  add_waves (r);
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  for (gsize k = 1; k + 1 < e->n_points; k++) {
    double y[5], sum = 0, squares = 0;
    for (guint i = 0; i < 5; i++)
      sum += y[i] = slow_value (g_ptr_array_index (r->trials, i), grid_time_s (e, k));
    for (guint i = 0; i < 5; i++)
      squares += (y[i] - sum / 5) * (y[i] - sum / 5);
    assert_close (e->curve[TORQUE]->mean[k], sum / 5, 1e-10);
    assert_close (e->curve[TORQUE]->sd[k], sqrt (squares / 4), 1e-10);
  }
}

static void
resampling_gives_a_trial_at_the_grid_and_nothing_outside_its_samples (void **state)
{
  Repeats *r = *state;
  two_spans (r);
  SbEnsemble *e = repeats_average (r, SB_SPAN_UNION);
  double *values = repeats_array (r, e->n_points);
  sb_ensemble_resample (e, g_ptr_array_index (r->trials, 1), TORQUE, values);
  for (gsize k = 0; k < e->n_points; k++)
    assert_close (values[k], k >= 5 && k <= 90 ? 5 : (double) NAN, 0);
  sb_ensemble_resample (e, g_ptr_array_index (r->trials, 1), SB_CHANNEL_ANGLE, values);
  assert_true (isnan (values[50]));
}

/* A controller's clock may jump within a log; a grid over the years in between would fill the memory many times. */
static void
a_clock_that_jumps_years_ahead_does_not_make_a_grid_of_years (void **state)
{
  Repeats *r = *state;
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < 200; i++)
    g_string_append_printf (text, "%d.%02d,%d,%d\n", i < 150 ? i / 100 : 1700000000, i % 100, i < 50 ? 0 : 8, 3);
  g_autoptr (SbLog) log = sb_log_read_memory ("jump.csv", text->str, text->len, 0, NULL);
  g_ptr_array_add (r->trials, sb_trial_new (log, NULL, NULL));
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_true (e->n_points >= 150 && e->n_points <= 16 * 200 + 51);
  assert_int_equal (e->first, -50);
  assert_close (e->curve[TORQUE]->mean[120], 3, 0);
}

/* Two trials ±a tau: s = a tau √2, so the time mean of s² over 0..T is 2 a² T² / 3; the trapezoids add h² / 6 · 2 a².
 */
static void
deviation_is_the_root_of_the_time_mean_of_the_variance (void **state)
{
  Repeats *r = *state;
  for (int sign = -1; sign <= 1; sign += 2)
    repeats_add (r, &(Repeat){ .onset_s = 1,
                               .begin_s = -0.3,
                               .end_s = 2,
                               .interval_s = 0.01,
                               .torque = slanted,
                               .velocity = constant,
                               .parameter = 4 * sign });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  double square = 2 * 16 * 4.0 / 3 + 2 * 16 * 0.01 * 0.01 / 6;
  assert_close_relative (sb_ensemble_deviation (e, TORQUE), sqrt (square), 1e-12);
  assert_close_relative (sb_ensemble_deviation (e, VELOCITY), 4 * sqrt (2), 1e-12); /* 4 and -4 at all times */
}

/* The same up to T = 1.005, half way between two grid points: the area below the variance v = 2 a² tau² over the last
 * half step is that of a trapezoid between v (1) and the middle of the chord to v (1.01). */
static void
deviation_ends_with_the_active_window_between_grid_points (void **state)
{
  Repeats *r = *state;
  for (int sign = -1; sign <= 1; sign += 2)
    repeats_add (r, &(Repeat){ .onset_s = 1,
                               .begin_s = -0.3,
                               .end_s = 2,
                               .active_s = 1.005,
                               .interval_s = 0.01,
                               .torque = slanted,
                               .parameter = 4 * sign });
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  double whole = 2 * 16 * 1.0 / 3 + 2 * 16 * 0.01 * 0.01 / 6;
  double at_end = (32 + 32 * 1.01 * 1.01) / 2;
  double square = (whole + 0.005 * (32 + at_end) / 2) / 1.005;
  assert_close_relative (sb_ensemble_deviation (e, TORQUE), sqrt (square), 1e-9);
}

static void
one_trial_has_no_deviation (void **state)
{
  Repeats *r = *state;
  repeats_add (r, &(Repeat){ .onset_s = 1, .begin_s = -0.1, .end_s = 0.4, .interval_s = 0.01, .torque = ramp });
  assert_true (isnan (sb_ensemble_deviation (repeats_average (r, SB_SPAN_COMMON), TORQUE)));
}

#define ENSEMBLE_TEST(name) cmocka_unit_test_setup_teardown (name, repeats_setup, repeats_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    ENSEMBLE_TEST (ramps_with_different_onsets_and_sampling_average_to_the_ramp),
    ENSEMBLE_TEST (mean_of_one_trial_equals_the_trial),
    ENSEMBLE_TEST (the_onset_is_a_grid_point),
    ENSEMBLE_TEST (two_rates_give_the_larger_step),
    ENSEMBLE_TEST (common_span_is_what_all_trials_cover),
    ENSEMBLE_TEST (union_span_counts_the_trials_at_each_point),
    ENSEMBLE_TEST (union_span_grows_when_the_short_trial_comes_first),
    ENSEMBLE_TEST (trials_with_no_time_in_common_have_no_points),
    ENSEMBLE_TEST (union_of_trials_apart_has_a_hole_without_values),
    ENSEMBLE_TEST (a_channel_that_one_trial_lacks_has_no_curve),
    ENSEMBLE_TEST (builder_refuses_a_coarser_trial_and_stays_as_it_was),
    ENSEMBLE_TEST (nothing_added_gives_nothing),
    ENSEMBLE_TEST (the_same_order_gives_the_same_bytes_and_any_order_the_same_curve),
    ENSEMBLE_TEST (mean_and_sd_equal_a_slow_twin),
    ENSEMBLE_TEST (resampling_gives_a_trial_at_the_grid_and_nothing_outside_its_samples),
    ENSEMBLE_TEST (a_clock_that_jumps_years_ahead_does_not_make_a_grid_of_years),
    ENSEMBLE_TEST (deviation_is_the_root_of_the_time_mean_of_the_variance),
    ENSEMBLE_TEST (deviation_ends_with_the_active_window_between_grid_points),
    ENSEMBLE_TEST (one_trial_has_no_deviation),
  };
  return cmocka_run_group_tests_name ("ensemble", tests, NULL, NULL);
}
