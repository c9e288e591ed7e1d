/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures that noise moves to another crest of the response: where that can be, it is said. What is true follows from
 * the formula that the torque is made with; how near is near from its noise. */
#include "measured.h"

#define N_DRAWS 20

/* Half a cosine from `from` to `to`. */
static double
swing (double share, double from, double to)
{
  return from + (to - from) * (1 - cos (G_PI * CLAMP (share, 0, 1))) / 2;
}

/* A rise to `crest` in 10 ms, back to `trough` in 10 ms, and on to 1 in 40 ms, all from 2 ms after the onset. */
static double
rise_with_crest (double t, double crest, double trough)
{
  double u = t - 2e-3;
  if (u < 0.01)
    return swing (u / 0.01, 0, crest);
  return u < 0.02 ? swing ((u - 0.01) / 0.01, crest, trough) : swing ((u - 0.02) / 0.04, trough, 1);
}

static const SbMeasures *
measure_rise (Measured *m, guint64 seed, double crest, double trough, double noise_ratio)
{
  MadeNoise noise = { seed };
  MadeLog log = make_step_log (m->made, 1000, 200, 5e-4, 10);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = 10 * (rise_with_crest (log.t[i], crest, trough) + noise_ratio * made_normal (&noise));
  return measure_log (m, &log, NULL);
}

/* s at which the swing from 0 to `to` in `length_s` passes `level`. */
static double
swing_time (double level, double from, double to, double length_s)
{
  return length_s / G_PI * acos (1 - 2 * (level - from) / (to - from));
}

/* Every draw's duration is one of the two, and a doubt names the other, on all that is taken from the crossing. */
static void
crest_within_the_noise_of_90_percent_is_a_doubt (void **state)
{
  Measured *m = *state;
  double t10 = swing_time (0.1, 0, 0.92, 0.01), early = swing_time (0.9, 0, 0.92, 0.01) - t10;
  double late = 0.02 + swing_time (0.9, 0.82, 1, 0.04) - t10;
  gsize n_early = 0;
  for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
    const SbMeasures *r = measure_rise (m, seed, 0.92, 0.82, 0.01);
    double duration = value_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME);
    gboolean is_early = fabs (duration - early) < 2e-3;
    n_early += is_early ? 1 : 0;
    assert_close (duration, is_early ? early : late, 2e-3);
    assert_doubt (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "90 % level touched again", "could as well be");
    assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "90 % level touched again", "N·m/ms");
    assert_doubt (r, SB_MEASURE_TORQUE_SMOOTHNESS, "90 % level touched again", "its window");
    assert_null (doubt_of (r, SB_MEASURE_DEAD_TIME, "90 %"));
    /* its uncertainty holds the other */
    assert_true (2 * r->measure[SB_MEASURE_TORQUE_TRANSITION_TIME].uncertainty > late - early);
  }
  assert_in_range (n_early, 1, N_DRAWS - 1); /* or there was nothing to doubt */
}

/* A precursor of a tenth of the step: dead time and duration both begin before it or behind it. */
static void
crest_within_the_noise_of_10_percent_is_a_doubt (void **state)
{
  Measured *m = *state;
  for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
    const SbMeasures *r = measure_rise (m, seed, 0.12, 0.04, 0.01);
    static const SbMeasureId ids[]
        = { SB_MEASURE_DEAD_TIME, SB_MEASURE_TORQUE_TRANSITION_TIME, SB_MEASURE_MEAN_TORQUE_SLOPE };
    for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
      assert_doubt (r, ids[i], "10 % level touched again", "could as well be");
  }
}

/* The number behind `words` in a doubt. */
static double
number_behind (const char *doubt, const char *words)
{
  const char *at = strstr (doubt, words);
  assert_non_null (at);
  return g_ascii_strtod (at + strlen (words), NULL);
}

/* The trough that the rise was made with, 22 ms after the onset: two digits of its depth, and a place that four digits
 * tell to 0.1 ms of a log sampled every 0.5 ms. Noise of 0.3 % of the step moves the lowest point of the smoothed curve
 * by a few of its deviations, and along the trough to where that is 0.7 % above its bottom at most: x = acos (1 - 0.014
 * / 0.12) / pi = 0.155 of the 10 ms before it, acos (1 - 0.014 / 0.18) / pi = 0.126 of the 40 ms behind it. */
static void
assert_fall (const SbMeasures *measures, SbMeasureId id, const char *kind, double percent, double noise)
{
  const char *doubt = doubt_of (measures, id, kind);
  assert_non_null (doubt);
  assert_close (number_behind (doubt, "falls back to "), percent, noise > 0 ? 1 : 0.5);
  assert_close (number_behind (doubt, "% of its step, "), 22, noise > 0 ? 0.126 * 40 : 0.55);
}

/* Clear of the level by ten standard deviations and back below it by as many: the first crossing is what counts, in
 * every draw, and what comes behind it is told with the trough that the rise was made with. Without noise as well. */
static void
trough_behind_the_crossing_is_told (void **state)
{
  Measured *m = *state;
  static const double noises[] = { 0, 0.003 };
  for (gsize i = 0; i < G_N_ELEMENTS (noises); i++)
    for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
      const SbMeasures *r = measure_rise (m, seed, 0.94, 0.82, noises[i]);
      assert_close (r->transition.t90_s, 2e-3 + swing_time (0.9, 0, 0.94, 0.01), 1e-3);
      assert_fall (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "90 % level left again", 82, noises[i]);
      assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "90 % level left again", "before it rises to its top level");
      assert_null (doubt_of (r, SB_MEASURE_DEAD_TIME, "90 %"));
      r = measure_rise (m, seed, 0.2, 0.04, noises[i]);
      assert_close (value_of (r, SB_MEASURE_DEAD_TIME), 2e-3 + swing_time (0.1, 0, 0.2, 0.01), 1e-3);
      assert_fall (r, SB_MEASURE_DEAD_TIME, "10 % level left again", 4, noises[i]);
      assert_doubt (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "10 % level left again", "before it rises to 90 %");
    }
}

/* A fall below the level by less than 1 % of the step is no matter to anyone; one of 1.5 % is told. */
static void
shallow_trough_behind_the_crossing_is_not_told (void **state)
{
  static const struct {
    double below;
    gboolean told;
  } cases[] = { { 0.007, FALSE }, { 0.015, TRUE } };
  Measured *m = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    const SbMeasures *r = measure_rise (m, 1, 0.94, 0.9 - cases[i].below, 0);
    assert_int_equal (doubt_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "90 % level left") != NULL, cases[i].told);
    r = measure_rise (m, 1, 0.2, 0.1 - cases[i].below, 0);
    assert_int_equal (doubt_of (r, SB_MEASURE_DEAD_TIME, "10 % level left") != NULL, cases[i].told);
  }
}

/* A response of damping ratio 0.1 overshoots by 73 % and then falls to 47 % of the step (1 - Mp²): that is ringing. */
static void
trough_behind_the_top_is_ringing (void **state)
{
  Measured *m = *state;
  for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
    MadeNoise noise = { seed };
    MadeLog log = make_second_order (m->made, 0.1, 250, 10, 400, 1600, 2.5e-4);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] += 0.05 * made_normal (&noise);
    assert_null (doubt_of (measure_log (m, &log, NULL), SB_MEASURE_TORQUE_TRANSITION_TIME, "90 % level left"));
  }
}

/* Five standard deviations of the noise away from what would be taken for a passage, either way. */
static void
crest_clear_of_the_level_is_no_doubt (void **state)
{
  Measured *m = *state;
  static const struct {
    double crest, trough;
  } cases[] = { { 0.875, 0.82 }, { 0.94, 0.94 } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
      const SbMeasures *r = measure_rise (m, seed, cases[i].crest, cases[i].trough, 0.003);
      assert_no_doubts (r, SB_MEASURE_TORQUE_TRANSITION_TIME);
      assert_no_doubts (r, SB_MEASURE_MEAN_TORQUE_SLOPE);
    }
}

/* A second-order response rises once: noise of 3 % of the step crosses its 10 % level early, but no other crest does.
 */
static void
noise_before_a_plain_rise_is_no_crest (void **state)
{
  Measured *m = *state;
  for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
    MadeNoise noise = { seed };
    MadeLog log = make_second_order (m->made, 0.35, 250, 10, 400, 1200, 2.5e-4);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] += 0.3 * made_normal (&noise);
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_null (doubt_of (r, SB_MEASURE_DEAD_TIME, "10 % level touched again"));
    assert_null (doubt_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "10 % level touched again"));
    assert_null (doubt_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "90 % level touched again"));
  }
}

/* Extremum k of a second-order response stands Mp^k from the level: zeta for which the third is `share`. */
static double
zeta_of_third_extremum (double share)
{
  double log_mp = log (share) / 3;
  return -log_mp / hypot (G_PI, log_mp);
}

static const SbMeasures *
measure_third_extremum (Measured *m, guint64 seed, double share, double noise_ratio)
{
  MadeNoise noise = { seed };
  MadeLog log = make_second_order (m->made, zeta_of_third_extremum (share), 150, 10, 200, 800, 5e-4);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] += 10 * noise_ratio * made_normal (&noise);
  return measure_log (m, &log, NULL);
}

/* The band is 2 %, and crests of 1.8 and 1.95 % never leave it; noise of 0.2 % makes them: a time that is another
 * half-period's carries the doubt, in every draw. */
static void
crest_within_the_noise_of_the_settling_band_is_a_doubt (void **state)
{
  Measured *m = *state;
  static const double shares[] = { 0.018, 0.0195 };
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++) {
    double zeta = zeta_of_third_extremum (shares[i]), half_period_s = G_PI / (150 * sqrt (1 - zeta * zeta));
    gsize n_wrong = 0;
    for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
      const SbMeasures *r = measure_third_extremum (m, seed, shares[i], 2e-3);
      /* the second extremum leaves the band for the last time before the third is reached */
      gboolean is_wrong = value_of (r, SB_MEASURE_SETTLING_TIME) > 2.7 * half_period_s;
      n_wrong += is_wrong ? 1 : 0;
      if (is_wrong)
        assert_doubt (r, SB_MEASURE_SETTLING_TIME, "near the band's edge", "could as well be");
    }
    assert_true (n_wrong > N_DRAWS / 4); /* or there was nothing to doubt */
  }
}

static void
crest_clear_of_the_settling_band_is_no_doubt (void **state)
{
  Measured *m = *state;
  static const double shares[] = { 0.01, 0.03 };
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++)
    for (guint64 seed = 1; seed <= N_DRAWS; seed++)
      assert_no_doubts (measure_third_extremum (m, seed, shares[i], 1e-3), SB_MEASURE_SETTLING_TIME);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (crest_within_the_noise_of_90_percent_is_a_doubt),
    T (crest_within_the_noise_of_10_percent_is_a_doubt),
    T (trough_behind_the_crossing_is_told),
    T (shallow_trough_behind_the_crossing_is_not_told),
    T (trough_behind_the_top_is_ringing),
    T (crest_clear_of_the_level_is_no_doubt),
    T (noise_before_a_plain_rise_is_no_crest),
    T (crest_within_the_noise_of_the_settling_band_is_a_doubt),
    T (crest_clear_of_the_settling_band_is_no_doubt),
  };
  return cmocka_run_group_tests_name ("figures by chance", tests, NULL, NULL);
}
