/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a torque shows besides noise and puts its figures in doubt by: an oscillation before the onset, coarse steps, a
 * crest between samples, a slow drift. What is true follows from the formula that the torque is made with. */
#include "measured.h"

#define STEP_NM 10.0
#define N_DRAWS 40

/* 0.1 s before and 0.6 s after a step of 40 Hz, damping ratio 0.2, that begins `late` of a sample after its command. */
static MadeLog
make_response (Measured *m, double rate_hz, double hz, double late)
{
  gsize before = (gsize) lround (0.1 * rate_hz), after = (gsize) lround (0.6 * rate_hz);
  MadeLog log = make_step_log (m->made, before + after, before, 1 / rate_hz, STEP_NM);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = STEP_NM * second_order (log.t[i] - late / rate_hz, 0.2, 2 * G_PI * hz / sqrt (1 - 0.04));
  return log;
}

static void
add_noise (MadeLog *log, double sd_nm, guint64 seed)
{
  MadeNoise noise = { seed };
  for (gsize i = 0; i < log->n; i++)
    log->torque[i] += sd_nm * made_normal (&noise);
}

/* 0.3 N·m at 25 Hz that dies away with 3/s from the log's start on, 0.1 s before the onset: 0.3 e^-0.3 = 0.22 N·m,
 * which noise lets be seen to a tenth. */
static void
swing_before_the_onset_is_told_of_all_that_rests_on_the_levels (void **state)
{
  Measured *m = *state;
  static const SbMeasureId ids[] = { SB_MEASURE_PEAK_TORQUE, SB_MEASURE_OVERSHOOT, SB_MEASURE_MEAN_TORQUE_SLOPE,
                                     SB_MEASURE_RINGING_DAMPING, SB_MEASURE_RINGING_AMPLITUDE };
  for (int still = 0; still < 2; still++) {
    MadeLog log = make_response (m, 4000, 40, 0);
    for (gsize i = 0; i < log.n && !still; i++)
      log.torque[i] += 0.3 * exp (-3 * (log.t[i] + 0.1)) * cos (2 * G_PI * 25 * log.t[i] + 1);
    add_noise (&log, 0.02, 5);
    const SbMeasures *r = measure_log (m, &log, NULL);
    for (gsize k = 0; k < G_N_ELEMENTS (ids); k++)
      if (still)
        assert_null (doubt_of (r, ids[k], "swinging before the onset"));
      else
        assert_doubt (r, ids[k], "swinging before the onset", "swings at 25 Hz by ± 0.2");
  }
}

/* Noise whose neighbours are alike, x' = 0.9 x + white, is no oscillation. */
static void
noise_that_is_not_white_does_not_swing (void **state)
{
  Measured *m = *state;
  int n_said = 0;
  for (guint64 seed = 1; seed <= N_DRAWS; seed++) {
    MadeLog log = make_response (m, 4000, 40, 0);
    MadeNoise noise = { seed };
    double x = 0;
    for (gsize i = 0; i < log.n; i++) {
      x = 0.9 * x + 0.1 * made_normal (&noise);
      log.torque[i] += x;
    }
    n_said += doubt_of (measure_log (m, &log, NULL), SB_MEASURE_OVERSHOOT, "swinging before") != NULL ? 1 : 0;
  }
  assert_true (n_said <= 1);
}

/* GUM F.2.2.1: what is rounded to a step q is known to q / √12. With the response anywhere between two samples errors
 * are that size. */
static void
coarse_steps_are_told_and_have_their_uncertainty (void **state)
{
  Measured *m = *state;
  double wn = 2 * G_PI * 40 / sqrt (1 - 0.04), duration_s = 4.69155e-3,
         squares = 0; /* by root finding on the formula */
  assert_close (second_order (1.81362e-3, 0.2, wn), 0.1, 1e-5);
  assert_close (second_order (1.81362e-3 + duration_s, 0.2, wn), 0.9, 1e-5);
  for (int d = 0; d < N_DRAWS; d++) {
    MadeLog log = make_response (m, 4000, 40, (d + 0.5) / N_DRAWS);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] = 0.25 * round (log.torque[i] / 0.25);
    const SbMeasures *r = measure_log (m, &log, NULL);
    const SbMeasure *duration = &r->measure[SB_MEASURE_TORQUE_TRANSITION_TIME];
    double error = value_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME) - duration_s;
    squares += error * error / (duration->uncertainty * duration->uncertainty) / N_DRAWS;
    assert_doubt (r, SB_MEASURE_SETTLING_TIME, "coarse steps", "in steps of 0.25 N·m");
    assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "coarse steps", "0.25 N·m");
    assert_true (r->measure[SB_MEASURE_PEAK_TORQUE].uncertainty >= 0.25 / sqrt (12) * (1 - 1e-9));
    assert_true (r->measure[SB_MEASURE_OVERSHOOT].uncertainty > 0.25 / sqrt (12) / STEP_NM);
    assert_true (r->measure[SB_MEASURE_PEAK_TORQUE_SLOPE].uncertainty > 0);
  }
  assert_true (sqrt (squares) > 0.5 && sqrt (squares) < 1.5);
}

/* 0, 1, 2, .. 10 N·m: whole steps, but none that it goes to and fro by. */
static void
ramp_of_whole_steps_is_not_coarse (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 500, 100, 1e-3, STEP_NM);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = round (ramp (log.t[i], 0.002, 0.012, 0, STEP_NM));
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_no_doubts (r, SB_MEASURE_PEAK_TORQUE);
  assert_null (doubt_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "coarse steps"));
}

/* Five samples to a cycle: the crest is up to a tenth of the step above the farthest of them, which may be the first
 * one after the crossing of 90 %. The first crest of the formula: e^(-π 0.2 / √0.96) above the top. */
static void
crest_between_samples_is_told_wherever_it_falls (void **state)
{
  Measured *m = *state;
  double crest = exp (-G_PI * 0.2 / sqrt (0.96)), squares = 0;
  for (int d = 0; d < N_DRAWS; d++) {
    MadeLog log = make_response (m, 100, 20, (d + 0.5) / N_DRAWS);
    add_noise (&log, 0.02, (guint64) d + 1);
    const SbMeasures *r = measure_log (m, &log, NULL);
    const SbMeasure *overshoot = &r->measure[SB_MEASURE_OVERSHOOT];
    double z = (value_of (r, SB_MEASURE_OVERSHOOT) - crest) / overshoot->uncertainty;
    squares += z * z / N_DRAWS;
    assert_doubt (r, SB_MEASURE_OVERSHOOT, "crest between samples", "% in the root mean square");
    assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "crest between samples", "N·m in the root mean square");
  }
  assert_true (sqrt (squares) < 1.6);
  MadeLog fine = make_response (m, 4000, 20, 0);
  add_noise (&fine, 0.02, 1);
  assert_null (doubt_of (measure_log (m, &fine, NULL), SB_MEASURE_OVERSHOOT, "crest between samples"));
}

/* Over the last of four quarters of 0.6 s the torque gains 0.15 times its rate, which is told from 0.05 N·m on. */
static void
slow_drift_is_told (void **state)
{
  Measured *m = *state;
  static const double rates[] = { 0.5, 0.2 };
  for (gsize k = 0; k < G_N_ELEMENTS (rates); k++) {
    MadeLog log = make_response (m, 4000, 40, 0);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] += rates[k] * fmax (0, log.t[i]);
    add_noise (&log, 0.02, 3);
    const SbMeasures *r = measure_log (m, &log, NULL);
    if (k == 0)
      assert_doubt (r, SB_MEASURE_OVERSHOOT, "drifting", "rises by 0.07");
    else
      assert_null (doubt_of (r, SB_MEASURE_OVERSHOOT, "drifting"));
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (swing_before_the_onset_is_told_of_all_that_rests_on_the_levels, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (noise_that_is_not_white_does_not_swing, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (coarse_steps_are_told_and_have_their_uncertainty, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (ramp_of_whole_steps_is_not_coarse, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (crest_between_samples_is_told_wherever_it_falls, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (slow_drift_is_told, measured_setup, measured_teardown),
  };
  return cmocka_run_group_tests_name ("at rest", tests, NULL, NULL);
}
