/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

/* A clean rise of 8 N·m in 4 ms that starts 3 ms after the onset: 2000 N·m/s by construction. */
#define RISE_START_S 3e-3
#define RISE_END_S   7e-3

static MadeLog
make_ramp (MadeTrials *made, gsize before, gsize after, double interval_s)
{
  MadeLog log = make_step_log (made, before + after, before, interval_s, 8);
  log.torque = make_column (made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], RISE_START_S, RISE_END_S, 0, 8);
  return log;
}

static void
ramp_gives_its_exact_slope_and_times (void **state)
{
  Measured *m = *state;
  MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_true (r->transition.has_torque_step);
  assert_true (r->transition.plateau);
  assert_close (r->transition.base_nm, 0, 1e-12);
  assert_close (r->transition.top_nm, 8, 1e-12);
  assert_close_relative (value_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE), 2000, 1e-9);
  assert_close (value_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME), 3.2e-3, 1e-12); /* 80 % of 4 ms */
  assert_close (value_of (r, SB_MEASURE_DEAD_TIME), 3.4e-3, 1e-12);              /* 3 ms and 10 % of 4 ms */
  assert_close (r->transition.t50_s, 5e-3, 1e-12);
  assert_close (value_of (r, SB_MEASURE_PEAK_TORQUE), 8, 0);
  assert_no_doubts (r, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_no_doubts (r, SB_MEASURE_DEAD_TIME);
}

/* A flat plateau is its own level, however few samples show it: 8 N·m by construction, with nothing above it. */
static void
flat_plateau_of_few_samples_is_the_top_level (void **state)
{
  Measured *m = *state;
  static const gsize lengths[] = { 20, 30, 50, 70, 100, 300 };
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++) {
    MadeLog log = make_ramp (m->made, 20, lengths[i], 1e-3);
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_true (r->transition.plateau);
    assert_close (r->transition.top_nm, 8, 1e-12);
    assert_close (value_of (r, SB_MEASURE_OVERSHOOT), 0, 1e-12);
    assert_no_doubts (r, SB_MEASURE_OVERSHOOT);
  }
}

static void
falling_step_measures_as_the_rising_one (void **state)
{
  Measured *m = *state;
  MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
  for (gsize i = 0; i < log.n; i++) {
    log.torque[i] = -log.torque[i];
    log.command[i] = -log.command[i];
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_true (m->trial->mirrored);
  assert_close_relative (value_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE), 2000, 1e-9);
  assert_close (value_of (r, SB_MEASURE_PEAK_TORQUE), 8, 0);
}

/* The 'kink' of points (0,0)(1,0)(2,1.2)(3,0.9)(4,1)(10,1), states 0 and 1: exact by straight lines. */
static void
kinked_step_has_the_instants_of_its_straight_lines (void **state)
{
  Measured *m = *state;
  static const double at[][2] = { { 0, 0 }, { 1, 0 }, { 2, 1.2 }, { 3, 0.9 }, { 4, 1 }, { 10, 1 } };
  MadeLog log = make_step_log (m->made, 1101, 100, 0.01, 1);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    for (gsize k = 0; k + 1 < G_N_ELEMENTS (at); k++)
      if (log.t[i] >= at[k][0] - 1e-9 && log.t[i] <= at[k + 1][0] + 1e-9)
        log.torque[i] = ramp (log.t[i], at[k][0], at[k + 1][0], at[k][1], at[k + 1][1]);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (r->transition.top_nm, 1, 2e-4); /* a few samples of the flanks lie in the mode's bins */
  assert_close (r->transition.t10_s, 13.0 / 12, 2e-4);
  assert_close (r->transition.t50_s, 17.0 / 12, 2e-4);
  assert_close (r->transition.t90_s, 1.75, 2e-4);
  assert_close (value_of (r, SB_MEASURE_TORQUE_TRANSITION_TIME), 2.0 / 3, 2e-4);
  assert_close (value_of (r, SB_MEASURE_OVERSHOOT), 0.2, 3e-4);
  assert_close (value_of (r, SB_MEASURE_UNDERSHOOT), 0.1, 3e-4);
  assert_close (value_of (r, SB_MEASURE_SETTLING_TIME), 3.8, 2e-3); /* at 0.1 N·m/s a level off by 2e-4 is 2 ms */
}

static void
jump_is_under_resolved_and_says_what_could_be_resolved (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 400, 100, 1e-3, 10);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = log.t[i] > 1.5e-3 ? 10 : 0;
  const SbMeasures *r = measure_log (m, &log, NULL);
  /* 0.8 * 10 N·m / (4 * 1 ms) */
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "under-resolved: 0 samples", "is 2 N·m/ms");
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "under-resolved", "is 2 N·m/ms");
  assert_doubt (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "under-resolved", "is 2 N·m/ms");
}

static void
five_samples_on_the_rise_are_resolved (void **state)
{
  Measured *m = *state;
  MadeLog log
      = make_ramp (m->made, 100, 400, 6e-4); /* 3.2 ms hold five samples: 3.6, 4.2, 4.8, 5.4, 6.0, and 6.6 is past */
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_null (doubt_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "under-resolved"));
  log = make_ramp (m->made, 100, 400, 8e-4); /* 4.0, 4.8, 5.6, 6.4 */
  r = measure_log (m, &log, NULL);
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "under-resolved: 4 samples", "N·m/ms");
}

/* A torque that climbs to the end has no level: the mean of the last quarter of 0..1 is 7/8. */
static void
steady_climb_has_no_plateau_and_says_so (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1100, 100, 1e-3, 1);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0, 0.999, 0, 1);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_false (r->transition.plateau);
  assert_close (r->transition.top_nm, 0.875, 1e-3);
  static const SbMeasureId ids[]
      = { SB_MEASURE_MEAN_TORQUE_SLOPE, SB_MEASURE_TORQUE_TRANSITION_TIME, SB_MEASURE_DEAD_TIME, SB_MEASURE_OVERSHOOT,
          SB_MEASURE_UNDERSHOOT,        SB_MEASURE_SETTLING_TIME };
  assert_close (r->transition.still_rises_nm, 0.25, 1e-3); /* a quarter of the climb, from its first whole sample */
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    assert_absent (r, ids[i], "cut short: the torque still rises");
  assert_close_relative (value_of (r, SB_MEASURE_PEAK_TORQUE_SLOPE), 1 / 0.999, 1e-6);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "no plateau", "last quarter");
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "still rising", "0.249 N·m over the last quarter");
}

/* A base of three samples is said to be short; the level is still their mean. */
static void
short_base_is_a_doubt (void **state)
{
  Measured *m = *state;
  MadeLog log = make_ramp (m->made, 3, 1000, 1e-4);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "short base", "only 3 samples");
  assert_doubt (r, SB_MEASURE_DEAD_TIME, "short base", "only 3 samples");
}

static void
log_that_starts_at_the_onset_has_no_base_level (void **state)
{
  Measured *m = *state;
  MadeLog log = make_ramp (m->made, 5, 1000, 1e-4);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (log.t[0], NAN);
  const SbMeasures *r = measure_trial (m, make_trial (m->made, &log, &choices), NULL);
  assert_false (r->transition.has_torque_step);
  static const SbMeasureId ids[]
      = { SB_MEASURE_MEAN_TORQUE_SLOPE, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_MEASURE_TORQUE_TRANSITION_TIME,
          SB_MEASURE_DEAD_TIME,         SB_MEASURE_OVERSHOOT,         SB_MEASURE_UNDERSHOOT,
          SB_MEASURE_SETTLING_TIME,     SB_MEASURE_RINGING_FREQUENCY, SB_MEASURE_RINGING_DAMPING,
          SB_MEASURE_RINGING_AMPLITUDE, SB_MEASURE_RINGING_CYCLES,    SB_MEASURE_TORQUE_SMOOTHNESS };
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    assert_absent (r, ids[i], "no samples before the onset");
  assert_close (value_of (r, SB_MEASURE_PEAK_TORQUE), 8, 0);
}

static void
onset_after_the_rise_leaves_no_step (void **state)
{
  Measured *m = *state;
  MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (0.05, NAN);
  const SbMeasures *r = measure_trial (m, make_trial (m->made, &log, &choices), NULL);
  assert_false (r->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].present);
  assert_non_null (r->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].absent_reason);
  assert_close (value_of (r, SB_MEASURE_PEAK_TORQUE), 8, 0);
}

static void
still_torque_under_a_stepping_command_is_no_step (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 600, 100, 1e-3, 5);
  log.torque = make_column (m->made, log.n);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_absent (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "no torque step");
  assert_absent (r, SB_MEASURE_RINGING_FREQUENCY, "no torque step");
}

static void
estimated_onset_is_a_doubt_where_time_counts_from_it_and_no_dead_time (void **state)
{
  Measured *m = *state;
  MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
  log.command = NULL;
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (m->trial->onset_from, SB_ONSET_FROM_TORQUE);
  /* To 10 % of a rise of 4 ms it would be 0.4 ms from the estimate, however late after a command the rise began. */
  assert_absent (r, SB_MEASURE_DEAD_TIME, "estimated onset");
  assert_doubt (r, SB_MEASURE_SETTLING_TIME, "estimated onset", "of the torque");
  assert_null (doubt_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "estimated onset"));
}

/* A command that takes 100 ms to rise is half way at 50 ms; a torque that follows at once has passed 10 % at 10 ms. */
static void
torque_ahead_of_half_the_command_has_a_negative_dead_time (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 600, 100, 1e-3, 5);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = log.command[i] = ramp (log.t[i], 0, 0.1, 0, 5);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (value_of (r, SB_MEASURE_DEAD_TIME), -0.04, 1e-5); /* a level off by 1e-4 N·m is 2 µs */
  assert_doubt (r, SB_MEASURE_DEAD_TIME, "before the onset", "40 ms");
  assert_close_relative (value_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE), 50, 1e-9);
}

static void
gap_inside_the_window_is_a_doubt_and_outside_is_none (void **state)
{
  Measured *m = *state;
  MadeLog whole = make_ramp (m->made, 200, 1000, 1e-4), log = whole;
  log.n = 0;
  for (gsize i = 0; i < whole.n; i++) {
    if (whole.t[i] > 0.0405 && whole.t[i] < 0.0425)
      continue;
    log.t[log.n] = whole.t[i];
    log.command[log.n] = whole.command[i];
    log.torque[log.n++] = whole.torque[i];
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (m->trial->gaps->len, 1);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "gap in the window", "no samples for 2 ms from 40.5 ms");
  assert_doubt (r, SB_MEASURE_SETTLING_TIME, "gap in the window", "2 ms");
  assert_no_doubts (r, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_no_doubts (r, SB_MEASURE_PEAK_TORQUE_SLOPE);
}

/* The clock set back by 2.05 ms, which is 20 rows and a half: within the rise everything that needs both sides is in
 * doubt, before the onset nothing is, for the rows behind it agree with one another. */
static void
clock_set_back_after_the_onset_is_a_doubt_and_before_it_is_none (void **state)
{
  Measured *m = *state;
  for (gsize at = 150; at <= 250; at += 100) {
    MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
    for (gsize i = at; i < log.n; i++)
      log.t[i] -= 2.05e-3;
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_int_equal (m->trial->log->setbacks->len, 1);
    if (at == 150) {
      assert_no_doubts (r, SB_MEASURE_MEAN_TORQUE_SLOPE);
      continue;
    }
    assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "clock set back", "20 rows from line 252 on");
    assert_doubt (r, SB_MEASURE_SETTLING_TIME, "clock set back", "from 4.95 ms after the onset");
  }
}

/* A logger that is told the time of day, in s since 1970: 1.7·10⁹ s between two rows, for which there is no room. The
 * trial ends there: within the rise no level is reached, behind it all is as if the log ended there. */
static void
trial_ends_where_the_clock_is_set_to_the_time_of_day (void **state)
{
  Measured *m = *state;
  for (gsize at = 210; at <= 800; at += 10) {
    MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
    MadeLog ended = make_ramp (m->made, 200, at - 200, 1e-4);
    for (gsize i = at; i < log.n; i++)
      log.t[i] += 1.7e9;
    const SbMeasures *r = measure_log (m, &ended, NULL);
    double slope = r->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].value;
    gboolean present = r->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].present;
    r = measure_log (m, &log, NULL);
    assert_int_equal (m->trial->log->jumps->len, 1);
    assert_int_equal (m->trial->n_samples, at);
    assert_int_equal (r->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].present, present);
    if (present)
      assert_close (r->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].value, slope, 0);
  }
}

/* Half way up the rise there is no top; before the onset nothing but the level there is shorter. */
static void
clock_set_ahead_cuts_the_trial (void **state)
{
  Measured *m = *state;
  for (gsize at = 150; at <= 250; at += 100) {
    MadeLog log = make_ramp (m->made, 200, 1000, 1e-4);
    for (gsize i = at; i < log.n; i++)
      log.t[i] += 3600;
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_int_equal (m->trial->log->jumps->len, 1);
    if (at == 150)
      assert_no_doubts (r, SB_MEASURE_MEAN_TORQUE_SLOPE);
    else
      assert_absent (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "the clock jumps ahead there: log it again");
    if (at == 250)
      assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "ends at a jump", "by 3600 s at line 252");
  }
}

/* Times in the range of denormal numbers: 0.8 times 10 N·m over 8e-311 s is beyond the largest double, 1.8e308. */
static void
figure_beyond_the_range_of_numbers_is_absent (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 200, 50, 1e-310, 10);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = log.command[i];
  assert_absent (measure_log (m, &log, NULL), SB_MEASURE_MEAN_TORQUE_SLOPE, "too large");
}

static void
missing_torque_is_a_reason_never_a_zero (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 600, 100, 1e-3, 5);
  log.velocity = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = ramp (log.t[i], 0, 0.2, 0, 40);
  const SbMeasures *r = measure_log (m, &log, NULL);
  for (int i = 0; i < SB_N_MEASURES; i++) {
    SbMeasureId id = (SbMeasureId) i;
    if (sb_measure_info (id)->channel == SB_CHANNEL_TORQUE && !r->measure[id].present)
      assert_non_null (r->measure[id].absent_reason);
  }
  assert_absent (r, SB_MEASURE_PEAK_TORQUE, "no torque");
  assert_absent (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "no torque");
  assert_absent (r, SB_MEASURE_OVERSHOOT, "no torque");
  assert_absent (r, SB_MEASURE_RINGING_AMPLITUDE, "no torque");
  assert_absent (r, SB_MEASURE_VELOCITY_DEVIATION, "repeats together");
}

/* J dω/dt of a steady 100 rad/s² with 0.02 kg m² is 2 N·m. */
static void
derived_torque_is_marked (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 600, 100, 1e-3, 5);
  log.comment = "# inertia_kg_m2: 0.02\n";
  log.velocity = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = log.t[i] > 0 ? 100 * log.t[i] : 0;
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (r->transition.top_nm, 2, 1e-9);
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE, "derived channel", "inertia");
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "derived channel", "inertia");
}

static double
curve_at (const SbTrial *trial, SbChannel channel, double t_s)
{
  const double *t = trial->time_s, *y = trial->signal[channel];
  gsize i = 0;
  while (i + 2 < trial->n_samples && t[i + 1] - trial->onset_s <= t_s)
    i++;
  return y[i] + (y[i + 1] - y[i]) * ((t_s + trial->onset_s - t[i]) / (t[i + 1] - t[i]));
}

static void
evidence_lies_on_the_curve_inside_the_window (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.1, 2 * G_PI * 40, 8, 300, 2000, 5e-4);
  log.velocity = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.velocity[i] = 30 * second_order (log.t[i], 0.5, 20);
  const SbMeasures *r = measure_log (m, &log, NULL);
  gsize n_points = 0;
  for (int id = 0; id < SB_N_MEASURES; id++) {
    const SbMeasure *measure = &r->measure[id];
    for (gsize k = 0; k < measure->n_evidence; k++) {
      const SbEvidence *point = &measure->evidence[k];
      if (point->kind == SB_EVIDENCE_LEVEL)
        continue;
      SbChannel channel = sb_measure_info ((SbMeasureId) id)->channel;
      assert_close (point->y, curve_at (m->trial, channel, point->t_s), 1e-9);
      n_points++;
    }
  }
  assert_true (n_points >= 12);
}

/* The jump of a command sampled each 0.5 ms is known to 0.5 ms, an even chance over it: 0.5 ms / √12 (GUM 4.3.7). */
static void
dead_time_near_the_sample_interval_is_coarse (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 5e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0, 0.02, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (value_of (r, SB_MEASURE_DEAD_TIME), 0.002, 1e-9);
  assert_close_relative (r->measure[SB_MEASURE_DEAD_TIME].uncertainty, 5e-4 / sqrt (12), 1e-9);
  assert_doubt (r, SB_MEASURE_DEAD_TIME, "coarse", "0.5 ms");
}

/* The 10 % level of an 8 N·m step is 0.8 N·m from the base, less than three times a noise of 0.4 N·m. */
static void
crossings_within_reach_of_the_noise_are_doubted (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 5e-4, 8);
  MadeNoise noise = { 7 };
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.01, 0.05, 0, 8) + 0.4 * made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "in the noise", "0.8 N·m from the base");
  assert_doubt (r, SB_MEASURE_TORQUE_TRANSITION_TIME, "in the noise", "from the base");
  assert_doubt (r, SB_MEASURE_DEAD_TIME, "in the noise", "from the base");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (dead_time_near_the_sample_interval_is_coarse),
    T (crossings_within_reach_of_the_noise_are_doubted),
    T (ramp_gives_its_exact_slope_and_times),
    T (flat_plateau_of_few_samples_is_the_top_level),
    T (falling_step_measures_as_the_rising_one),
    T (kinked_step_has_the_instants_of_its_straight_lines),
    T (jump_is_under_resolved_and_says_what_could_be_resolved),
    T (five_samples_on_the_rise_are_resolved),
    T (steady_climb_has_no_plateau_and_says_so),
    T (short_base_is_a_doubt),
    T (log_that_starts_at_the_onset_has_no_base_level),
    T (onset_after_the_rise_leaves_no_step),
    T (still_torque_under_a_stepping_command_is_no_step),
    T (estimated_onset_is_a_doubt_where_time_counts_from_it_and_no_dead_time),
    T (torque_ahead_of_half_the_command_has_a_negative_dead_time),
    T (gap_inside_the_window_is_a_doubt_and_outside_is_none),
    T (trial_ends_where_the_clock_is_set_to_the_time_of_day),
    T (clock_set_ahead_cuts_the_trial),
    T (clock_set_back_after_the_onset_is_a_doubt_and_before_it_is_none),
    T (figure_beyond_the_range_of_numbers_is_absent),
    T (missing_torque_is_a_reason_never_a_zero),
    T (derived_torque_is_marked),
    T (evidence_lies_on_the_curve_inside_the_window),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
