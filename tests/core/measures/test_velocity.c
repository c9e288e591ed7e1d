/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

static MadeLog
make_velocity (MadeTrials *made, gsize n, gsize onset, double interval_s)
{
  MadeLog log = make_step_log (made, n, onset, interval_s, 5);
  log.velocity = make_column (made, n);
  return log;
}

/* 0 to 40 rad/s in 200 ms, then 40: peak 40; mean over 0.5 s (40 * 0.3 + 20 * 0.2) / 0.5 = 32; 36 rad/s at 180 ms. */
static void
ramp_to_a_speed_has_exact_peak_mean_and_rise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_velocity (m->made, 601, 100, 1e-3);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = ramp (log.t[i], 0, 0.2, 0, 40);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (value_of (r, SB_MEASURE_PEAK_VELOCITY), 40, 0);
  assert_close (value_of (r, SB_MEASURE_MEAN_VELOCITY), 32, 1e-9);
  assert_close (value_of (r, SB_MEASURE_VELOCITY_RISE_TIME), 0.18, 1e-9);
  assert_close (r->measure[SB_MEASURE_MEAN_VELOCITY].window_s[1], 0.5, 1e-12);
  assert_int_equal (r->measure[SB_MEASURE_PEAK_VELOCITY].evidence[0].kind, SB_EVIDENCE_PEAK);
  assert_no_doubts (r, SB_MEASURE_PEAK_VELOCITY);
}

/* An onset between two samples: the mean of a straight rise over 0.0005..0.1 s is the speed half way. */
static void
mean_begins_at_an_onset_between_samples (void **state)
{
  Measured *m = *state;
  MadeLog log = make_velocity (m->made, 301, 100, 1e-3);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = 100 * (log.t[i] + 0.1);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (0.0005, 0.1);
  const SbMeasures *r = measure_trial (m, make_trial (m->made, &log, &choices), NULL);
  assert_close (value_of (r, SB_MEASURE_MEAN_VELOCITY), 100 * (0.1 + (0.0005 + 0.1) / 2), 1e-9);
}

/* One sample stands out by 10: over five samples that is 2. */
static void
smoothing_spreads_a_single_spike (void **state)
{
  Measured *m = *state;
  MadeLog log = make_velocity (m->made, 601, 100, 1e-3);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = log.t[i] > 0.0105 ? 20 : 0;
  log.velocity[400] += 10;
  SbMeasureChoices choices = SB_MEASURE_CHOICES_DEFAULT;
  assert_close (value_of (measure_log (m, &log, &choices), SB_MEASURE_PEAK_VELOCITY), 30, 0);
  choices.smoothing_s = 4e-3;
  assert_close (value_of (measure_log (m, &log, &choices), SB_MEASURE_PEAK_VELOCITY), 22, 1e-9);
}

static void
velocity_against_the_step_does_not_rise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_velocity (m->made, 601, 100, 1e-3);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = -1 - ramp (log.t[i], 0, 0.2, 0, 40);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_absent (r, SB_MEASURE_VELOCITY_RISE_TIME, "no rise");
  assert_close (value_of (r, SB_MEASURE_PEAK_VELOCITY), -1, 0);
}

static void
velocity_from_the_angle_is_marked (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 601, 100, 1e-3, 5);
  log.angle = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) /* speed 30 t: 15 rad/s at 0.5 s; a quadratic keeps that exactly */
    log.angle[i] = log.t[i] > 0 ? 15 * log.t[i] * log.t[i] : 0;
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (value_of (r, SB_MEASURE_PEAK_VELOCITY), 15, 1e-9);
  assert_doubt (r, SB_MEASURE_PEAK_VELOCITY, "derived channel", "from the angle");
  assert_doubt (r, SB_MEASURE_MEAN_VELOCITY, "derived channel", "from the angle");
}

static void
missing_velocity_is_a_reason (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.5, 100, 5, 200, 800, 1e-3);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_absent (r, SB_MEASURE_PEAK_VELOCITY, "no velocity");
  assert_absent (r, SB_MEASURE_MEAN_VELOCITY, "no velocity");
  assert_absent (r, SB_MEASURE_VELOCITY_RISE_TIME, "no velocity");
}

static void
onset_from_the_velocity_is_a_doubt (void **state)
{
  Measured *m = *state;
  MadeLog log = make_velocity (m->made, 601, 100, 1e-3);
  log.command = NULL;
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = ramp (log.t[i], 0, 0.2, 0, 40);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_doubt (r, SB_MEASURE_VELOCITY_RISE_TIME, "estimated onset", "of the velocity");
}

/* The mean of the largest of 1000 normal values is 3.241 standard deviations above their mean (tables of normal order
 * statistics, from memory); of 301 it is 2.88 by the same approximation. That of one draw strays by some 0.35,
 * and the count with it. */
static void
peak_of_a_noisy_steady_velocity_is_raised_by_noise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_velocity (m->made, 1200, 199, 1e-3);
  MadeNoise noise = { 3 };
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = (log.t[i] < 0 ? 0 : 40) + made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  const SbMeasure *peak = &r->measure[SB_MEASURE_PEAK_VELOCITY];
  assert_close (peak->bias, 3.24, 0.7);
  assert_close (peak->bias, value_of (r, SB_MEASURE_PEAK_VELOCITY) - 40, 1.3);
  assert_doubt (r, SB_MEASURE_PEAK_VELOCITY, "raised by noise", "a smoothing of the velocity lowers that");
  assert_doubt (r, SB_MEASURE_VELOCITY_RISE_TIME, "raised by noise", "rad/s");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (ramp_to_a_speed_has_exact_peak_mean_and_rise),
    T (mean_begins_at_an_onset_between_samples),
    T (smoothing_spreads_a_single_spike),
    T (velocity_against_the_step_does_not_rise),
    T (velocity_from_the_angle_is_marked),
    T (missing_velocity_is_a_reason),
    T (onset_from_the_velocity_is_a_doubt),
    T (peak_of_a_noisy_steady_velocity_is_raised_by_noise),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
