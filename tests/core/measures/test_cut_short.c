/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Responses of known algebra that are cut before they reach their level: nothing that needs the level is told as if it
 * were known. A first-order response is 1 - e^(-t/tau); a second-order one is that of measured.h with the time constant
 * 1 / (zeta wn). */
#include "measured.h"

#define TAU_S  0.1
#define STEP   8.0
#define BEFORE 200

/* Torque and velocity alike, for `cut` time constants after the step. zeta 0: of first order. */
static MadeLog
make_cut (MadeTrials *made, double zeta, double cut, double interval_s, double noise)
{
  gsize after = (gsize) (cut * TAU_S / interval_s) + 1;
  MadeLog log = make_step_log (made, BEFORE + after, BEFORE, interval_s, STEP);
  log.torque = make_column (made, log.n);
  log.velocity = make_column (made, log.n);
  MadeNoise source = { 4711 };
  for (gsize i = 0; i < log.n; i++) {
    double t = fmax (0, log.t[i]);
    double y = zeta > 0 ? second_order (t, zeta, 1 / (zeta * TAU_S)) : 1 - exp (-t / TAU_S);
    log.torque[i] = STEP * (y + noise * made_normal (&source));
    log.velocity[i] = STEP * (y + noise * made_normal (&source));
  }
  return log;
}

static const SbMeasureId of_the_level[] = {
  SB_MEASURE_MEAN_TORQUE_SLOPE, SB_MEASURE_TORQUE_TRANSITION_TIME,
  SB_MEASURE_DEAD_TIME,         SB_MEASURE_OVERSHOOT,
  SB_MEASURE_UNDERSHOOT,        SB_MEASURE_SETTLING_TIME,
  SB_MEASURE_RINGING_FREQUENCY, SB_MEASURE_RINGING_AMPLITUDE,
  SB_MEASURE_TORQUE_SMOOTHNESS,
};

/* Cut at T time constants it gains (e^(-3T/4) - e^(-T)) / (1 - e^(-T)) over the last quarter: 23, 21, 17, 10 and 5.8 %
 * of its rise. 90 % of the velocity seen is passed at tau ln (1 / (1 - 0.9 (1 - e^(-T)))) and is told as what it is. */
static void
first_order_cut_by_three_time_constants_has_no_level (void **state)
{
  Measured *m = *state;
  static const double cuts[] = { 0.2, 0.5, 1, 2, 3 };
  static const double noises[] = { 0, 0.001 };
  for (gsize k = 0; k < G_N_ELEMENTS (noises); k++)
    for (gsize i = 0; i < G_N_ELEMENTS (cuts); i++) {
      MadeLog made = make_cut (m->made, 0, cuts[i], 1e-4, noises[k]);
      const SbMeasures *r = measure_log (m, &made, NULL);
      for (gsize k2 = 0; k2 < G_N_ELEMENTS (of_the_level); k2++)
        assert_absent (r, of_the_level[k2], "cut short: the ");
      assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "still rising", "the torque gains");
      assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "still rising", "the torque gains");
      assert_doubt (r, SB_MEASURE_PEAK_VELOCITY, "still rising", "would give more");
      assert_doubt (r, SB_MEASURE_VELOCITY_RISE_TIME, "still rising", "would give more");
    }
}

/* Cut at five it gains 1.7 %: 90 % of e^(-5) below 1 is passed at tau ln (1 / (1 - 0.9 (1 - e^(-5)))), and the reader
 * is told. */
static void
first_order_cut_at_five_time_constants_is_doubted (void **state)
{
  Measured *m = *state;
  MadeLog made = make_cut (m->made, 0, 5, 1e-4, 0);
  const SbMeasures *r = measure_log (m, &made, NULL);
  double expected = -TAU_S * log1p (-0.9 * (1 - exp (-5)));
  assert_close_relative (value_of (r, SB_MEASURE_VELOCITY_RISE_TIME), expected, 1e-4);
  assert_doubt (r, SB_MEASURE_VELOCITY_RISE_TIME, "still rising", "would give more");
  assert_doubt (r, SB_MEASURE_OVERSHOOT, "still rising", "the torque gains");
  assert_doubt (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "still rising", "the torque gains");
}

/* At rest after 20: 90 % at tau ln 10, 10 to 90 % in tau ln 9 (IEEE Std 181, of an exponential). */
static void
first_order_that_comes_to_rest_is_told_plainly (void **state)
{
  Measured *m = *state;
  MadeLog made = make_cut (m->made, 0, 20, 1e-4, 0);
  const SbMeasures *r = measure_log (m, &made, NULL);
  assert_close_relative (value_of (r, SB_MEASURE_VELOCITY_RISE_TIME), TAU_S * log (10), 1e-4);
  assert_close_relative (value_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME), TAU_S * log (9), 2e-3);
  assert_no_doubts (r, SB_MEASURE_VELOCITY_RISE_TIME);
  assert_no_doubts (r, SB_MEASURE_TORQUE_TRANSITION_TIME);
  assert_no_doubts (r, SB_MEASURE_PEAK_VELOCITY);
}

/* Whether the reader of a figure is misled: it stands without a doubt and is off by more than `tolerance`. */
static void
assert_not_misleading (const SbMeasures *r, SbMeasureId id, double truth, double tolerance, double zeta, double cut)
{
  const SbMeasure *measure = &r->measure[id];
  gboolean sure = measure->present && measure->doubts == NULL;
  if (sure && fabs (measure->value - truth) > tolerance)
    print_error ("zeta %g cut at %g: %s is %g, not %g\n", zeta, cut, sb_measure_info (id)->key, measure->value, truth);
  assert_false (sure && fabs (measure->value - truth) > tolerance);
}

/* Time at which the response first passes `level`, by bisection of the formula below its peak. */
static double
passes (double zeta, double level)
{
  double wn = 1 / (zeta * TAU_S), low = 0, high = G_PI / (wn * sqrt (1 - zeta * zeta));
  for (int i = 0; i < 60; i++) {
    double middle = (low + high) / 2;
    *(second_order (middle, zeta, wn) < level ? &low : &high) = middle;
  }
  return low;
}

/* Overshoot e^(-pi zeta / sqrt (1 - zeta²)); the instants from the formula. */
static void
second_order_cut_anywhere_misleads_nobody (void **state)
{
  Measured *m = *state;
  static const double cuts[] = { 0.2, 0.5, 1, 2, 3, 5 }, zetas[] = { 0.15, 0.4, 0.7 }, noises[] = { 0, 0.001 };
  for (gsize z = 0; z < G_N_ELEMENTS (zetas); z++)
    for (gsize i = 0; i < G_N_ELEMENTS (cuts); i++)
      for (gsize k = 0; k < G_N_ELEMENTS (noises); k++) {
        double zeta = zetas[z], cut = cuts[i];
        MadeLog made = make_cut (m->made, zeta, cut, 1e-4, noises[k]);
        const SbMeasures *r = measure_log (m, &made, NULL);
        double overshoot = exp (-G_PI * zeta / sqrt (1 - zeta * zeta));
        double t10 = passes (zeta, 0.1), t90 = passes (zeta, 0.9), rise = passes (zeta, 0.9 * (1 + overshoot));
        assert_not_misleading (r, SB_MEASURE_OVERSHOOT, overshoot, 0.02, zeta, cut);
        assert_not_misleading (r, SB_MEASURE_TORQUE_TRANSITION_TIME, t90 - t10, 0.03 * (t90 - t10), zeta, cut);
        assert_not_misleading (r, SB_MEASURE_DEAD_TIME, t10, 0.03 * t10, zeta, cut);
        assert_not_misleading (r, SB_MEASURE_MEAN_TORQUE_SLOPE, 0.8 * STEP / (t90 - t10), 0.03 * STEP / (t90 - t10),
                               zeta, cut);
        assert_not_misleading (r, SB_MEASURE_VELOCITY_RISE_TIME, rise, 0.03 * rise, zeta, cut);
        assert_not_misleading (r, SB_MEASURE_PEAK_VELOCITY, STEP * (1 + overshoot), 0.03 * STEP, zeta, cut);
      }
}

/* White noise of 1, 5 and 10 % of the step on a torque at rest: no log of 300 still rises. */
static void
noise_on_a_plateau_does_not_rise (void **state)
{
  Measured *m = *state;
  static const double sizes[] = { 0.01, 0.05, 0.1 };
  MadeNoise source = { 99 };
  for (gsize k = 0; k < 300; k++) {
    MadeLog made = make_step_log (m->made, 240, 40, 1e-3, STEP);
    made.torque = make_column (m->made, made.n);
    for (gsize i = 0; i < made.n; i++)
      made.torque[i] = ramp (made.t[i], 0, 0.01, 0, STEP) + sizes[k % 3] * STEP * made_normal (&source);
    const SbMeasures *r = measure_log (m, &made, NULL);
    assert_close (r->transition.still_rises_nm, 0, 0);
  }
}

/* By construction both are at their level 0.3 ms before the command's jump: no time counted from it is one, and the
 * reader is told. */
static void
torque_that_leads_its_command_has_no_settling_time (void **state)
{
  Measured *m = *state;
  MadeLog made = make_step_log (m->made, 2200, 200, 1e-3, STEP);
  made.torque = make_column (m->made, made.n);
  made.velocity = make_column (m->made, made.n);
  for (gsize i = 0; i < made.n; i++)
    made.torque[i] = made.velocity[i] = ramp (made.t[i], -0.0042, -0.0003, 0, STEP);
  const SbMeasures *r = measure_log (m, &made, NULL);
  for (int id = 0; id < SB_N_MEASURES; id++)
    if (r->measure[id].present && strcmp (sb_measure_info ((SbMeasureId) id)->unit, "s") == 0
        && r->measure[id].value < 0)
      assert_non_null (r->measure[id].doubts);
  assert_doubt (r, SB_MEASURE_DEAD_TIME, "before the onset", "is the time of the command, or the onset, right?");
  assert_false (r->measure[SB_MEASURE_SETTLING_TIME].present);
  assert_doubt (r, SB_MEASURE_VELOCITY_RISE_TIME, "before the onset", "within a sample interval");
}

/* A ringing of 30 % about 8 N·m whose sensor ends at 8: it leaves that value and comes back to it with each period. */
static void
torque_cut_off_by_its_sensor_is_doubted (void **state)
{
  Measured *m = *state;
  for (int cut_off = 0; cut_off < 2; cut_off++) {
    MadeLog made = make_second_order (m->made, 0.1, 2 * G_PI * 40, STEP, BEFORE, 5000, 1e-4);
    for (gsize i = 0; i < made.n; i++)
      made.torque[i] = fmin (made.torque[i], cut_off ? STEP : 100);
    const SbMeasures *r = measure_log (m, &made, NULL);
    static const SbMeasureId ids[] = { SB_MEASURE_PEAK_TORQUE, SB_MEASURE_OVERSHOOT, SB_MEASURE_RINGING_DAMPING };
    for (gsize k = 0; k < G_N_ELEMENTS (ids); k++)
      if (cut_off)
        assert_doubt (r, ids[k], "cut off?", "exactly its largest value, 8 N·m");
      else
        assert_null (doubt_of (r, ids[k], "cut off?"));
  }
}

/* Noise of 0.5 % of a step to 8, of many values before the onset: a sensor that ends at 6.4 shows not one of them for
 * 450 samples. Steps of 0.5 N·m hide the noise of 0.04, on the base as on the plateau, which is one value then by
 * nothing but its steps; and what no sensor cuts off has noise to its end. Torque and velocity alike. */
static void
plateau_without_the_noise_of_the_base_is_cut_off (void **state)
{
  Measured *m = *state;
  static const SbMeasureId ids[] = { SB_MEASURE_PEAK_TORQUE, SB_MEASURE_OVERSHOOT, SB_MEASURE_MEAN_TORQUE_SLOPE,
                                     SB_MEASURE_PEAK_VELOCITY, SB_MEASURE_MEAN_VELOCITY };
  for (int way = 0; way < 3; way++) {
    MadeLog made = make_cut (m->made, 0, 6, 1e-3, 0.005);
    for (gsize i = 0; i < made.n; i++) {
      made.torque[i] = way == 0   ? fmin (made.torque[i], 6.4)
                       : way == 1 ? round (made.torque[i] / 0.5) * 0.5
                                  : made.torque[i];
      made.velocity[i] = way == 0   ? fmin (made.velocity[i], 6.4)
                         : way == 1 ? round (made.velocity[i] / 0.5) * 0.5
                                    : made.velocity[i];
    }
    const SbMeasures *r = measure_log (m, &made, NULL);
    for (gsize k = 0; k < G_N_ELEMENTS (ids); k++)
      if (way == 0)
        assert_doubt (r, ids[k], "cut off?", "stands at exactly its largest value, 6.4 ");
      else
        assert_null (doubt_of (r, ids[k], "cut off?"));
    if (way == 0)
      assert_null (doubt_of (r, SB_MEASURE_PEAK_TORQUE, "raised by noise"));
  }
}

/* An overshoot of 37 % hides that the torque then sinks by 0.8 N·m a second: 0.12 N·m in a quarter of 0.6 s. */
static void
torque_that_drifts_behind_its_overshoot_is_doubted (void **state)
{
  Measured *m = *state;
  MadeLog made = make_second_order (m->made, 0.3, 2 * G_PI * 40, STEP, BEFORE, 6000, 1e-4);
  for (gsize i = 0; i < made.n; i++)
    made.torque[i] -= 0.8 * made.t[i];
  const SbMeasures *r = measure_log (m, &made, NULL);
  assert_doubt (r, SB_MEASURE_OVERSHOOT, "drifting", "falls by 0.12 N·m");
  assert_close (r->transition.still_rises_nm, 0, 0);
}

/* A velocity of -10 rad/s and less has no peak along the step. */
static void
peak_below_zero_is_doubted (void **state)
{
  Measured *m = *state;
  MadeLog made = make_step_log (m->made, 500, 100, 1e-3, STEP);
  made.velocity = make_column (m->made, made.n);
  for (gsize i = 0; i < made.n; i++)
    made.velocity[i] = -10 - 20 * fmax (0, made.t[i]);
  const SbMeasures *r = measure_log (m, &made, NULL);
  assert_close (value_of (r, SB_MEASURE_PEAK_VELOCITY), -10, 1e-12);
  assert_doubt (r, SB_MEASURE_PEAK_VELOCITY, "against the step", "below zero");
}

/* A torque that goes to -8 N·m under a command of 8: no figure of a step, and what is wrong as the reason. */
static void
torque_against_the_command_is_told (void **state)
{
  Measured *m = *state;
  MadeLog made = make_step_log (m->made, 500, 100, 1e-3, STEP);
  made.torque = make_column (m->made, made.n);
  for (gsize i = 0; i < made.n; i++)
    made.torque[i] = -ramp (made.t[i], 0.002, 0.012, 0, STEP);
  const SbMeasures *r = measure_log (m, &made, NULL);
  assert_absent (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "runs against the command");
  assert_absent (r, SB_MEASURE_OVERSHOOT, "turn the sign of one of them");
  assert_absent (r, SB_MEASURE_PEAK_TORQUE, "the torque runs against the command: from 0 to -8 N·m"); /* 0 is none */
}

/* Torque of `gain` times a command that steps from `from` to `to`, and what a sensor adds. */
static const SbMeasures *
measure_from_to (Measured *m, double from, double to, double gain, double zero)
{
  MadeLog made = make_step_log (m->made, 500, 100, 1e-3, to - from);
  made.torque = make_column (m->made, made.n);
  for (gsize i = 0; i < made.n; i++) {
    made.command[i] += from;
    made.torque[i] = zero + gain * ramp (made.t[i], 0.002, 0.012, from, to);
  }
  return measure_log (m, &made, NULL);
}

/* 0.4 N·m at rest are 5 % of a step of 8 N·m, also of a step down; 0.1 N·m, 1.25 %, are not told; nor is a torque that
 * rests where its command has it, though the drive gives only nine tenths of that. */
static void
torque_of_a_sensor_that_is_not_zeroed_is_doubted (void **state)
{
  Measured *m = *state;
  const SbMeasures *r = measure_from_to (m, 0, STEP, 1, 0.4);
  assert_close (value_of (r, SB_MEASURE_PEAK_TORQUE), STEP + 0.4, 1e-12);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "zero offset?", "rests 0.4 N·m from where the command has it, 5 %");
  assert_null (doubt_of (r, SB_MEASURE_OVERSHOOT, "zero offset?"));
  r = measure_from_to (m, 0, -STEP, 1, 0.4);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "zero offset?", "rests 0.4 N·m from");
  assert_null (doubt_of (measure_from_to (m, 0, STEP, 1, 0.1), SB_MEASURE_PEAK_TORQUE, "zero offset?"));
  assert_null (doubt_of (measure_from_to (m, 3, 3 + STEP, 0.9, 0), SB_MEASURE_PEAK_TORQUE, "zero offset?"));
  assert_doubt (measure_from_to (m, 3, 3 + STEP, 0.9, 0.4), SB_MEASURE_PEAK_TORQUE, "zero offset?",
                "5.6 % of the step");
}

/* Along its step from 12 to 8 N·m a torque, turned over, is -8 N·m at most, and that is no peak. */
static void
step_towards_zero_has_no_peak (void **state)
{
  Measured *m = *state;
  const SbMeasures *r = measure_from_to (m, 12, 8, 1, 0);
  assert_absent (r, SB_MEASURE_PEAK_TORQUE, "the step leads towards zero, from 12 to 8 N·m");
  assert_close (value_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME), 8e-3, 1e-9);
  assert_absent (measure_from_to (m, -12, -8, 1, 0), SB_MEASURE_PEAK_TORQUE, "from -12 to -8 N·m");
  assert_close (value_of (measure_from_to (m, 12, -8, 1, 0), SB_MEASURE_PEAK_TORQUE), 8, 1e-12);
}

/* A second-order response of 40 Hz and a damping ratio of 0.08 overshoots by e^(-πζ/√(1 - ζ²)), 77.7 %. Cut within its
 * second cycle its last quarter is any phase of it: the overshoot is missing, or right; five cycles show it. */
static void
ringing_cut_within_its_second_cycle_has_no_level (void **state)
{
  Measured *m = *state;
  static const double cycles[] = { 1.15, 1.3, 1.45, 1.6, 1.75, 5 };
  const double zeta = 0.08, wn = 2 * G_PI * 40 / sqrt (1 - zeta * zeta),
               truth = exp (-G_PI * zeta / sqrt (1 - zeta * zeta));
  gsize n_absent = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (cycles); i++) {
    MadeLog log = make_step_log (m->made, 200 + (gsize) (cycles[i] / 40 * 4000), 200, 2.5e-4, STEP);
    MadeNoise noise = { 23 };
    log.torque = make_column (m->made, log.n);
    for (gsize k = 0; k < log.n; k++)
      log.torque[k] = STEP * second_order (log.t[k], zeta, wn) + 0.02 * made_normal (&noise);
    const SbMeasures *r = measure_log (m, &log, NULL);
    const SbMeasure *overshoot = &r->measure[SB_MEASURE_OVERSHOOT];
    n_absent += overshoot->present ? 0 : 1;
    if (overshoot->present)
      assert_close (overshoot->value, truth, 0.03);
    else
      assert_absent (r, SB_MEASURE_OVERSHOOT, "cut short: the torque still swings by");
    assert_true (overshoot->present || cycles[i] < 2);
  }
  assert_true (n_absent > 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (first_order_cut_by_three_time_constants_has_no_level, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (first_order_cut_at_five_time_constants_is_doubted, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (first_order_that_comes_to_rest_is_told_plainly, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (second_order_cut_anywhere_misleads_nobody, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (torque_cut_off_by_its_sensor_is_doubted, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (plateau_without_the_noise_of_the_base_is_cut_off, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (torque_that_drifts_behind_its_overshoot_is_doubted, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (torque_against_the_command_is_told, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (ringing_cut_within_its_second_cycle_has_no_level, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (peak_below_zero_is_doubted, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (torque_of_a_sensor_that_is_not_zeroed_is_doubted, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (step_towards_zero_has_no_peak, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (noise_on_a_plateau_does_not_rise, measured_setup, measured_teardown),
    cmocka_unit_test_setup_teardown (torque_that_leads_its_command_has_no_settling_time, measured_setup,
                                     measured_teardown),
  };
  return cmocka_run_group_tests_name ("cut short", tests, NULL, NULL);
}
