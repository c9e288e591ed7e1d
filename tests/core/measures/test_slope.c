/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "doubt.h"
#include "local_fit.h"
#include "measured.h"

static void
straight_rise_has_its_exact_peak_slope (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 1e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 3e-3, 7e-3, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  const SbMeasure *peak = &r->measure[SB_MEASURE_PEAK_TORQUE_SLOPE];
  assert_int_equal (r->transition.slope_half, 5); /* 1 ms at 0.1 ms: 11 samples */
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), 2000, 1e-9);
  assert_close (peak->window_s[1] - peak->window_s[0], 1e-3, 1e-12);
  assert_int_equal (peak->evidence[0].kind, SB_EVIDENCE_TANGENT);
  assert_close (peak->evidence[0].slope_per_s, peak->value, 0);
  assert_no_doubts (r, SB_MEASURE_PEAK_TORQUE_SLOPE); /* of a straight rise the window flattens nothing */
}

/* On times that are not even, a quadratic is still fitted exactly: a straight rise keeps its slope. */
static void
uneven_times_do_not_change_the_slope_of_a_straight_rise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 1e-4, 8);
  MadeNoise noise = { 3 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    if (i != 200)
      log.t[i] += 0.4e-4 * (made_uniform (&noise) - 0.5);
    log.torque[i] = ramp (log.t[i], 3e-3, 7e-3, 0, 8);
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), 2000, 1e-9);
  assert_close_relative (value_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE), 2000, 1e-9);
}

/* On uneven times a long window is not tried at every sample. Slow twin: at every seventh, and none is steeper. Some
 * 8193 samples: looked at in strides of 256, of 16 and of one. The rise is 8 (3 u² - 2 u³), u from 0 to 1 in 1 s. */
static void
long_window_on_uneven_times_finds_the_steepest (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 30000, 10000, 1e-4, 8);
  MadeNoise noise = { 5 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    if (i != 10000)
      log.t[i] += 0.4e-4 * (made_uniform (&noise) - 0.5);
    double u = CLAMP (log.t[i] - 0.5, 0, 1);
    log.torque[i] = 8 * u * u * (3 - 2 * u);
  }
  SbMeasureChoices choices = SB_MEASURE_CHOICES_DEFAULT;
  choices.slope_window_s = 0.8192;
  const SbMeasures *r = measure_log (m, &log, &choices);
  gsize half = r->transition.slope_half;
  assert_true (half > 4000);
  double steepest = 0;
  for (gsize c = 18000; c < 22000; c += 7)
    steepest = fmax (steepest, sb_local_slope (log.t, log.torque, c, half, 0));
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), steepest, 1e-6);
}

static void
slope_window_is_odd_and_never_below_five_samples (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 5e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.02, 0.06, 0, 8);
  SbMeasureChoices choices = SB_MEASURE_CHOICES_DEFAULT;
  assert_int_equal (measure_log (m, &log, &choices)->transition.slope_half,
                    2); /* 1 ms is two intervals: five samples */
  choices.slope_window_s = 4e-3;
  const SbMeasures *r = measure_log (m, &log, &choices);
  assert_int_equal (r->transition.slope_half, 4);
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), 200, 1e-9);
  choices.slope_window_s = 10;
  assert_absent (measure_log (m, &log, &choices), SB_MEASURE_PEAK_TORQUE_SLOPE, "longer than the log");
}

/* Slow twin: every window from well before the rise to well after it, by the sum of k y over the sum of k² (the 1964
 * table's weights -5..5 over 110, and so on). Long enough for the running sums to be refreshed. */
static void
peak_slope_is_the_largest_of_all_windows (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 9000, 1000, 1e-5, 8);
  MadeNoise noise = { 11 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = 8 * second_order (log.t[i], 0.7, 60) + 0.002 * made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  int half = (int) r->transition.slope_half;
  assert_int_equal (half, 50);
  double best = -INFINITY;
  for (int c = 1100; c < 8900; c++) {
    double sum = 0, squares = 0;
    for (int k = -half; k <= half; k++) {
      sum += k * log.torque[c + k];
      squares += k * k;
    }
    best = fmax (best, sum / squares / 1e-5);
  }
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), best, 1e-9);
}

/* 5-point window: the noise leaves s / (interval sqrt (10)). Source: Savitzky & Golay 1964, weights -2..2 over 10. */
static void
noise_floor_of_the_slope_follows_from_the_weights (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 3000, 1000, 5e-4, 8);
  MadeNoise noise = { 17 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.02, 0.06, 0, 8) + 0.01 * made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  /* 1000 samples give a standard deviation to 2.2 %; three times that */
  assert_close_relative (r->transition.noise_nm, 0.01, 0.07);
  assert_close_relative (r->transition.slope_floor_nm_per_s, r->transition.noise_nm / sqrt (10) / 5e-4, 1e-9);
  assert_null (doubt_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "in the noise"));
}

/* 8 N·m/s against a floor of 0.1 N·m / (√10 * 0.5 ms), about 63 N·m/s. */
static void
slow_rise_after_a_noisy_base_is_in_the_noise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 4000, 1000, 5e-4, 8);
  MadeNoise noise = { 5 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = log.t[i] < 0 ? 0.1 * made_normal (&noise) : ramp (log.t[i], 0.01, 1.01, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), 8, 1e-9);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "in the noise", "slopes of 0.06");
}

/* A slow ramp with noise: slopes of windows of 5 have a standard deviation of 0.01 N·m / (√10 * 0.5 ms) = 6.3 N·m/s, on
 * a slope of 8 N·m/s. How far the largest of 1600 of them strays from its mean: by no more than half a standard
 * deviation in most draws, so that the bias told is right to one. */
static void
largest_slope_of_a_noisy_slow_ramp_is_raised_by_noise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 4000, 1000, 5e-4, 8);
  MadeNoise noise = { 11 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.01, 1.01, 0, 8) + 0.01 * made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_true (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE) > 1.2 * 8);
  assert_close (r->measure[SB_MEASURE_PEAK_TORQUE_SLOPE].bias, value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE) - 8, 6.3);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "raised by noise", "here by about 0.02");
}

/* A rise of 8 N·m in 10 ms, 800 N·m/s, sampled evenly at 1 and 2 kHz and stamped with times that are off by a normal
 * error: what the largest slope has more is told, on average to a quarter; in a few draws of a hundred it is so much
 * that the rise need not be straight. The mean slope has no part in it. */
static void
largest_slope_over_jittering_stamps_is_raised_by_jitter (void **state)
{
  static const struct {
    double interval_s, off_ratio;
  } cases[] = { { 5e-4, 0.05 }, { 5e-4, 0.2 }, { 1e-3, 0.1 }, { 1e-3, 0.2 } };
  Measured *m = *state;
  MadeNoise noise = { 29 };
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    double raised = 0, told = 0;
    int n_told = 0, n_hidden = 0;
    for (int k = 0; k < 100; k++) {
      MadeLog log = make_step_log (m->made, 300, 100, cases[c].interval_s, 8);
      log.torque = make_column (m->made, log.n);
      double begins_s = 5e-3 + cases[c].interval_s * made_uniform (&noise);
      for (gsize i = 0; i < log.n; i++) {
        log.torque[i] = ramp (log.t[i], begins_s, begins_s + 0.01, 0, 8);
        double off = CLAMP (made_normal (&noise), -2.4, 2.4); /* or rows change places */
        log.t[i] += cases[c].off_ratio * cases[c].interval_s * (i == 100 ? 0 : off);
      }
      const SbMeasures *r = measure_log (m, &log, NULL);
      raised += value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE) - 800;
      told += r->measure[SB_MEASURE_PEAK_TORQUE_SLOPE].bias;
      n_told += doubt_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "raised by jitter") != NULL ? 1 : 0;
      n_hidden += doubt_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "flattening not judged") != NULL ? 1 : 0;
    }
    assert_int_equal (n_told + n_hidden, 100);
    assert_true (n_hidden <= 5);
    assert_true (raised / 100 > 0.01 * 800);
    assert_close_relative (told, raised, 0.25);
  }
}

/* A rise of 1 N·m/ms to 40 N·m, refreshed every 16 rows of 0.25 ms: a window of five rows would look at one step of 4
 * N·m, five times as steep. */
static void
slope_window_of_a_held_torque_has_five_of_its_values (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 2000, 500, 2.5e-4, 40);
  MadeNoise noise = { 31 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i]
        = i % 16 == 3 || i == 0 ? ramp (log.t[i], 4e-3, 44e-3, 0, 40) + 0.02 * made_normal (&noise) : log.torque[i - 1];
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->transition.slope_half, 32);
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), 1000, 0.05);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "held", "a new value of the torque every 4 ms only");
  assert_doubt (r, SB_MEASURE_DEAD_TIME, "held", "may be shorter by as much");
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "held", "either crossing may be late");
  assert_null (doubt_of (r, SB_MEASURE_PEAK_TORQUE, "held"));
}

/* A torque of the time constant 2 ms, sampled at 1 kHz at times that jitter by 0.22 ms and are logged as they are: the
 * true largest slope is 10 N·m / 2 ms, more than the window of 4 ms ever shows, and jitter has not raised what it
 * shows. */
static void
flattening_that_jittering_times_hide_is_told (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 31 };
  for (int k = 0; k < 20; k++) {
    MadeLog log = make_step_log (m->made, 600, 200, 1e-3, 10);
    log.torque = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++) {
      log.t[i] += i == 200 ? 0 : 2.2e-4 * CLAMP (made_normal (&noise), -2.2, 2.2);
      log.torque[i] = 10 * -expm1 (-fmax (0, log.t[i] - 0.003) / 0.002) + 0.005 * made_normal (&noise);
    }
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_true (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE) < 5000);
    assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "flattening not judged", "the true largest slope is higher");
    assert_close (r->measure[SB_MEASURE_PEAK_TORQUE_SLOPE].bias, 0, 0);
  }
}

/* A quartic through a rise T = a t - b t³ has the slope a where a quadratic over samples -2..2 h has a - 3.4 b h², as
 * the weights -2 -1 0 1 2 over 10 make of t³: (16 + 1 + 1 + 16)/10. The rise of 50 ms is cut off where its slope is a
 * half, so that it is steepest at its middle. */
static void
slope_window_too_long_for_the_bend_is_told (void **state)
{
  Measured *m = *state;
  const double h = 5e-3, a = 320, b = a / (6 * 0.03 * 0.03);
  MadeLog log = make_step_log (m->made, 600, 200, h, 8);
  log.torque = make_column (m->made, log.n);
  double reach = 0.03, top = 2 * (a * reach - b * reach * reach * reach);
  for (gsize i = 0; i < log.n; i++) {
    double u = CLAMP (log.t[i] - 0.05, -reach, reach);
    log.torque[i] = top / 2 + a * u - b * u * u * u;
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->transition.slope_half, 2);
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), a - 3.4 * b * h * h, 1e-9);
  g_autofree char *by = g_strdup_printf ("about %.2g N·m/ms or more; the window has the fewest", 3.4 * b * h * h / 1e3);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "flattened", by);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (straight_rise_has_its_exact_peak_slope),
    T (uneven_times_do_not_change_the_slope_of_a_straight_rise),
    T (long_window_on_uneven_times_finds_the_steepest),
    T (slope_window_is_odd_and_never_below_five_samples),
    T (peak_slope_is_the_largest_of_all_windows),
    T (noise_floor_of_the_slope_follows_from_the_weights),
    T (slow_rise_after_a_noisy_base_is_in_the_noise),
    T (largest_slope_of_a_noisy_slow_ramp_is_raised_by_noise),
    T (slope_window_of_a_held_torque_has_five_of_its_values),
    T (slope_window_too_long_for_the_bend_is_told),
    T (largest_slope_over_jittering_stamps_is_raised_by_jitter),
    T (flattening_that_jittering_times_hide_is_told),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
