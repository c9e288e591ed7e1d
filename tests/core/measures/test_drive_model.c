/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drive model against drives whose parameters are known: see drive_fixture.h. */
#include "drive_fixture.h"

#include "doubt.h"
#include "statistics.h"

#include <gsl/gsl_errno.h>

/* A right estimate is within this many standard errors in all but one of a thousand cases: Student's t with 9 degrees
 * of freedom, 0.9995 (table). */
#define FAR 4.78

static void
assert_found (const SbDriveModel *model, SbDriveParameterId id, double truth, double worst_ratio)
{
  const SbDriveParameter *parameter = &model->parameter[id];
  const char *key = sb_drive_parameter_info (id)->key;
  if (!parameter->identified) {
    print_error ("%s: %s\n", key, parameter->reason);
    fail ();
  }
  if (!(fabs (parameter->value - truth) < FAR * parameter->standard_error)) {
    print_error ("%s is %g ± %g, true %g\n", key, parameter->value, parameter->standard_error, truth);
    fail ();
  }
  /* and the error is small enough for that to say something */
  assert_true (parameter->standard_error < worst_ratio * truth);
}

static void
assert_open (const SbDriveModel *model, SbDriveParameterId id, const char *words)
{
  const SbDriveParameter *parameter = &model->parameter[id];
  assert_false (parameter->identified);
  assert_non_null (parameter->reason);
  const char *reason = parameter->reason != NULL ? parameter->reason : "";
  if (strstr (reason, words) == NULL) {
    print_error ("'%s' does not say '%s'\n", reason, words);
    fail ();
  }
}

static const SbDriveStretch *
find_stretch (const SbDriveModel *model, SbDriveLimit limit)
{
  for (guint i = 0; i < model->stretches->len; i++) {
    const SbDriveStretch *stretch = &g_array_index (model->stretches, SbDriveStretch, i);
    if (stretch->limit == limit)
      return stretch;
  }
  return NULL;
}

static void
assert_stretch (const SbDriveModel *model, SbDriveLimit limit, double from_s, double to_s, double tolerance_s)
{
  const SbDriveStretch *stretch = find_stretch (model, limit);
  assert_non_null (stretch);
  assert_close (stretch->from_s, from_s, tolerance_s);
  assert_close (stretch->to_s, to_s, tolerance_s);
}

static void
drive_with_a_first_order_lag_is_recovered (void **state)
{
  const SbDriveModel *model = fit_drive (*state, &plain_drive, &usual_sampling, &usual_scatter, 1);
  assert_true (model->present);
  assert_true (model->form.slope);
  assert_int_equal (model->form.lag, SB_DRIVE_LAG_FIRST);
  assert_false (model->form.ringing);
  assert_found (model, SB_DRIVE_DELAY, 0.004, 0.01);
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 500, 0.01);
  assert_found (model, SB_DRIVE_LEVEL, 8, 0.001);
  assert_found (model, SB_DRIVE_LAG_TIME, 0.003, 0.02);
  assert_found (model, SB_DRIVE_INERTIA, 0.03, 0.01);
  assert_found (model, SB_DRIVE_DAMPING, 0.15, 0.01);
  assert_found (model, SB_DRIVE_FRICTION, 0.5, 0.02);
}

static void
drive_without_a_lag_gets_none (void **state)
{
  Drive drive = plain_drive;
  drive.lag_order = 0;
  Scatter white = usual_scatter;
  white.scatter = 0; /* the mean of ramps that scatter is no ramp */
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &white, 2);
  assert_int_equal (model->form.lag, SB_DRIVE_LAG_NONE);
  assert_open (model, SB_DRIVE_LAG_TIME, "no lag");
  assert_found (model, SB_DRIVE_DELAY, 0.004, 0.01);
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 500, 0.01);
}

static void
drive_with_a_second_order_lag_is_recovered (void **state)
{
  Drive drive = plain_drive;
  drive.lag_order = 2;
  drive.lag_s = 0.004;
  drive.lag_damping = 0.6;
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 3);
  assert_int_equal (model->form.lag, SB_DRIVE_LAG_SECOND);
  assert_found (model, SB_DRIVE_LAG_TIME, 2 * 0.6 * 0.004, 0.02);
  assert_found (model, SB_DRIVE_LAG_DAMPING, 0.6, 0.02);
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 500, 0.02);
  assert_found (model, SB_DRIVE_DELAY, 0.004, 0.05);
}

static void
ringing_drive_is_recovered (void **state)
{
  Drive drive = plain_drive;
  drive.lag_s = 0.001;
  drive.ring_nm = 0.6;
  drive.ring_hz = 42;
  drive.ring_decay_per_s = 20;
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 4);
  assert_true (model->form.ringing);
  assert_found (model, SB_DRIVE_RINGING_FREQUENCY, 42, 0.01);
  assert_found (model, SB_DRIVE_RINGING_AMPLITUDE, 0.6, 0.05);
  assert_found (model, SB_DRIVE_RINGING_DAMPING, 20 / hypot (20, 2 * G_PI * 42), 0.05);
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 500, 0.01);
  assert_found (model, SB_DRIVE_LEVEL, 8, 0.001);
}

static void
limits_bind_at_the_right_times (void **state)
{
  Drive drive = plain_drive;
  drive.ceiling_nm = 6;
  drive.inertia_kg_m2 = 0.005; /* J / b = 33 ms: the speed is at its end within the log */
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 5);
  double end_s = model->window_s[1];
  assert_found (model, SB_DRIVE_CEILING, 6, 0.001);
  assert_stretch (model, SB_DRIVE_LIMIT_DELAY, 0, 0.004, 0.0003);
  assert_stretch (model, SB_DRIVE_LIMIT_SLOPE, 0.004, 0.016, 0.0003);
  assert_stretch (model, SB_DRIVE_LIMIT_CEILING, 0.016, end_s, 0.0003);
  assert_null (find_stretch (model, SB_DRIVE_LIMIT_COMMAND));
  /* b ω + Tc = 0.9 T, on the fine solution */
  Sampling fine = { 4000, 0, 0.0001 };
  g_autofree double *torque = g_new (double, fine.n);
  g_autofree double *velocity = g_new (double, fine.n);
  drive_run (&drive, &fine, torque, velocity);
  gsize from = 200;
  while (0.15 * velocity[from] + 0.5 < 0.9 * torque[from])
    from++;
  assert_stretch (model, SB_DRIVE_LIMIT_FRICTION, (double) from * 0.0001, end_s, 0.002);
}

static void
ceiling_is_open_when_the_command_is_followed (void **state)
{
  const SbDriveModel *model = fit_drive (*state, &plain_drive, &usual_sampling, &usual_scatter, 6);
  assert_open (model, SB_DRIVE_CEILING, "the ceiling was never reached: the torque followed the command");
  assert_stretch (model, SB_DRIVE_LIMIT_COMMAND, 0.02, model->window_s[1], 0.0003);
  assert_null (find_stretch (model, SB_DRIVE_LIMIT_CEILING));
}

static void
level_is_open_when_the_torque_still_rises_at_the_end (void **state)
{
  Drive drive = plain_drive;
  drive.slope_nm_per_s = 10; /* 8 N·m take 0.8 s, the log ends at 0.32 s */
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 7);
  assert_true (model->present);
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 10, 0.01);
  assert_open (model, SB_DRIVE_LEVEL, "still rising");
  assert_open (model, SB_DRIVE_CEILING, "still rising");
}

static void
slope_limit_is_open_when_the_lag_makes_the_rise (void **state)
{
  Drive drive = plain_drive;
  drive.slope_nm_per_s = 1e6;
  drive.lag_s = 0.01;
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 8);
  assert_open (model, SB_DRIVE_SLOPE_LIMIT, "");
  assert_null (find_stretch (model, SB_DRIVE_LIMIT_SLOPE));
  assert_found (model, SB_DRIVE_LAG_TIME, 0.01, 0.02);
}

static void
slope_limit_is_open_when_the_rise_is_shorter_than_the_sampling (void **state)
{
  Drive drive = plain_drive;
  drive.slope_nm_per_s = 20000; /* 0.4 ms of an interval of 0.5 ms */
  drive.lag_order = 0;
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 9);
  assert_true (model->present);
  assert_open (model, SB_DRIVE_SLOPE_LIMIT, "");
}

static void
slope_limit_is_open_when_the_command_is_slower (void **state)
{
  Drive drive = plain_drive;
  drive.command_ramp_s = 0.04; /* 200 N·m/s */
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 10);
  assert_open (model, SB_DRIVE_SLOPE_LIMIT, "the command itself rises");
  assert_found (model, SB_DRIVE_DELAY, 0.004, 0.1);
}

static void
damping_is_open_in_a_short_run (void **state)
{
  Drive drive = plain_drive;
  drive.inertia_kg_m2 = 4; /* J / b = 27 s against a log of 0.3 s */
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 11);
  assert_found (model, SB_DRIVE_INERTIA, 4, 0.2);
  assert_open (model, SB_DRIVE_DAMPING, "too short or too slow");
}

static void
end_of_travel_ends_the_fit (void **state)
{
  Drive drive = plain_drive;
  drive.stop_s = 0.2;
  const SbDriveModel *model = fit_drive (*state, &drive, &usual_sampling, &usual_scatter, 12);
  assert_close (model->window_s[1], 0.2, 0.0011);
  assert_found (model, SB_DRIVE_INERTIA, 0.03, 0.02);
  const SbDriveStretch *stretch = find_stretch (model, SB_DRIVE_LIMIT_TRAVEL);
  assert_non_null (stretch);
  assert_close (stretch->from_s, 0.2, 0.0011);
}

static void
single_repeat_takes_errors_from_residuals_and_says_so (void **state)
{
  Scatter lone = usual_scatter;
  lone.n_repeats = 1;
  lone.scatter = 0;
  const SbDriveModel *model = fit_drive (*state, &plain_drive, &usual_sampling, &lone, 13);
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 500, 0.05);
  assert_found (model, SB_DRIVE_INERTIA, 0.03, 0.05);
  gboolean said = FALSE;
  for (guint i = 0; i < model->doubts->len; i++)
    said = said || strstr (sb_doubts_get (model->doubts, i)->text, "repeat to repeat") != NULL;
  assert_true (said);
}

static void
logs_without_a_command_leave_delay_and_ceiling_open (void **state)
{
  MadeNoise noise = { 14 };
  for (guint k = 0; k < 5; k++)
    fitted_add (*state, &plain_drive, &usual_sampling, &usual_scatter, WITH_VELOCITY | WITH_TORQUE, NULL, &noise);
  const SbDriveModel *model = fitted_finish (*state);
  assert_true (model->present);
  assert_open (model, SB_DRIVE_DELAY, "no command");
  assert_open (model, SB_DRIVE_CEILING, "no command");
  assert_found (model, SB_DRIVE_SLOPE_LIMIT, 500, 0.02);
}

static void
logs_without_a_torque_have_no_model (void **state)
{
  MadeNoise noise = { 15 };
  for (guint k = 0; k < 3; k++)
    fitted_add (*state, &plain_drive, &usual_sampling, &usual_scatter, WITH_COMMAND | WITH_VELOCITY, NULL, &noise);
  const SbDriveModel *model = fitted_finish (*state);
  assert_false (model->present);
  assert_string_equal (model->absent_reason, "not every repeat has a torque");
}

static void
torque_derived_from_the_velocity_gives_no_inertia (void **state)
{
  MadeNoise noise = { 16 };
  Scatter quiet = { 0, 0.0005, 0.004, 5 };
  for (guint k = 0; k < 5; k++)
    fitted_add (*state, &plain_drive, &usual_sampling, &quiet, WITH_COMMAND | WITH_VELOCITY, "# inertia_kg_m2: 0.03\n",
                &noise);
  const SbDriveModel *model = fitted_finish (*state);
  assert_true (model->present);
  assert_open (model, SB_DRIVE_INERTIA, "worked out from the velocity");
  assert_false (model->has_motion);
}

static void
stated_inertia_that_does_not_fit_is_told (void **state)
{
  MadeNoise noise = { 17 };
  for (guint k = 0; k < 5; k++)
    fitted_add (*state, &plain_drive, &usual_sampling, &usual_scatter, WITH_ALL, "# inertia_kg_m2: 0.05\n", &noise);
  const SbDriveModel *model = fitted_finish (*state);
  gboolean told = FALSE;
  for (guint i = 0; i < model->doubts->len; i++)
    told = told || g_str_has_prefix (sb_doubts_get (model->doubts, i)->text, "Inertia: the logs state 0.05");
  assert_true (told);
}

/* Noise about a command that is never answered: nothing rises. */
static void
dead_drive_has_no_model_and_a_reason (void **state)
{
  Fitted *fitted = *state;
  MadeNoise noise = { 18 };
  for (guint k = 0; k < 3; k++) {
    MadeLog log = make_step_log (fitted->made, 400, 50, 0.001, 8);
    log.torque = make_column (fitted->made, 400);
    for (gsize i = 0; i < 400; i++)
      log.torque[i] = -0.01 * (double) i + 0.001 * made_normal (&noise);
    make_trial (fitted->made, &log, NULL);
  }
  const SbDriveModel *model = fitted_finish (fitted);
  assert_false (model->present);
  assert_non_null (strstr (model->absent_reason, "does not rise"));
}

/* The drawn velocity is that of the model's own torque: for a drive that is the model, both curves lie on the truth. */
static void
fitted_curves_lie_on_the_true_ones (void **state)
{
  Fitted *fitted = *state;
  Scatter white = { 0.02, 0.05, 0, 10 };
  const SbDriveModel *model = fit_drive (fitted, &plain_drive, &usual_sampling, &white, 19);
  g_autofree double *torque = g_new (double, usual_sampling.n);
  g_autofree double *velocity = g_new (double, usual_sampling.n);
  drive_run (&plain_drive, &usual_sampling, torque, velocity);
  gsize n_compared = 0;
  for (gsize k = 0; k < model->n_points; k++) {
    if (!isfinite (model->torque[k]))
      continue;
    gsize i = (gsize) ((gint64) usual_sampling.onset + fitted->ensemble->first + (gint64) k);
    assert_close (model->torque[k], torque[i], 0.03);
    assert_close (model->velocity[k], velocity[i], 0.15);
    n_compared++;
  }
  assert_true (n_compared > 600);
}

/* 200 draws of six repeats with noise and with parameters that scatter: the standard errors are as large as the
 * estimates' own scatter over the draws (ratio of variances: 1 ± 3 √(2/199 + 2/(5·200))), and the 95 % intervals hold
 * the truth as often as a binomial count of 200 may (99.9 %: 0.95 ± 0.051). */
static void
standard_errors_are_honest (void **state)
{
  enum { N_DRAWS = 200, N_CHECKED = 6 };
  static const SbDriveParameterId ids[N_CHECKED] = { SB_DRIVE_DELAY,   SB_DRIVE_SLOPE_LIMIT, SB_DRIVE_LAG_TIME,
                                                     SB_DRIVE_INERTIA, SB_DRIVE_DAMPING,     SB_DRIVE_FRICTION };
  const double truth[N_CHECKED] = { 0.004, 500, 0.003, 0.03, 0.15, 0.5 };
  Fitted *fitted = *state;
  Sampling sampling = { 400, 40, 0.0008 };
  Scatter scatter = { 0.03, 0.08, 0.01, 6 };
  static double values[N_CHECKED][N_DRAWS];
  double squares[N_CHECKED] = { 0 };
  int n_holding[N_CHECKED] = { 0 };
  for (int draw = 0; draw < N_DRAWS; draw++) {
    const SbDriveModel *model = fit_drive (fitted, &plain_drive, &sampling, &scatter, 1000 + (guint64) draw);
    assert_true (model->present);
    for (int k = 0; k < N_CHECKED; k++) {
      const SbDriveParameter *parameter = &model->parameter[ids[k]];
      assert_true (parameter->identified);
      values[k][draw] = parameter->value;
      squares[k] += parameter->standard_error * parameter->standard_error / N_DRAWS;
      n_holding[k] += truth[k] >= parameter->ci95[0] && truth[k] <= parameter->ci95[1] ? 1 : 0;
    }
    fitted_clear (fitted);
    fitted->made = made_trials_new ();
  }
  for (int k = 0; k < N_CHECKED; k++) {
    double sd = sb_sd (values[k], N_DRAWS), ratio = squares[k] / (sd * sd), share = (double) n_holding[k] / N_DRAWS;
    double bias = (sb_mean (values[k], N_DRAWS) - truth[k]) / (sd / sqrt (N_DRAWS));
    print_message ("%s: bias %.1f of its errors, error ratio %.2f, holding %.3f\n",
                   sb_drive_parameter_info (ids[k])->key, bias, sqrt (ratio), share);
    assert_close (ratio, 1, 0.33);
    assert_close (share, 0.95, 0.051);
  }
}

int
main (void)
{
  gsl_set_error_handler_off ();
#define CASE(name) cmocka_unit_test_setup_teardown (name, fitted_setup, fitted_teardown)
  const struct CMUnitTest tests[] = {
    CASE (drive_with_a_first_order_lag_is_recovered),
    CASE (drive_without_a_lag_gets_none),
    CASE (drive_with_a_second_order_lag_is_recovered),
    CASE (ringing_drive_is_recovered),
    CASE (limits_bind_at_the_right_times),
    CASE (ceiling_is_open_when_the_command_is_followed),
    CASE (level_is_open_when_the_torque_still_rises_at_the_end),
    CASE (slope_limit_is_open_when_the_lag_makes_the_rise),
    CASE (slope_limit_is_open_when_the_rise_is_shorter_than_the_sampling),
    CASE (slope_limit_is_open_when_the_command_is_slower),
    CASE (damping_is_open_in_a_short_run),
    CASE (end_of_travel_ends_the_fit),
    CASE (single_repeat_takes_errors_from_residuals_and_says_so),
    CASE (logs_without_a_command_leave_delay_and_ceiling_open),
    CASE (logs_without_a_torque_have_no_model),
    CASE (torque_derived_from_the_velocity_gives_no_inertia),
    CASE (stated_inertia_that_does_not_fit_is_told),
    CASE (dead_drive_has_no_model_and_a_reason),
    CASE (fitted_curves_lie_on_the_true_ones),
    CASE (standard_errors_are_honest),
  };
  return cmocka_run_group_tests_name ("drive model", tests, NULL, NULL);
}
