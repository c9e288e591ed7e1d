/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closed forms of the drive model against the differential equations they solve. */
#include "drive_fixture.h"
#include "drive_motion.h"
#include "drive_torque.h"

#include <gsl/gsl_errno.h>

static const Sampling close_sampling = { 500, 50, 0.0002 };

/* Torque of a drive by the closed form minus the one by fine integration. */
static double
largest_difference (const Drive *drive, SbDriveForm form, const double *x)
{
  const Sampling *sampling = &close_sampling;
  g_autofree double *t = g_new (double, sampling->n);
  g_autofree double *torque = g_new (double, sampling->n);
  g_autofree double *velocity = g_new (double, sampling->n);
  g_autofree double *closed = g_new (double, sampling->n);
  for (gsize i = 0; i < sampling->n; i++)
    t[i] = ((double) i - (double) sampling->onset) * sampling->interval_s;
  drive_run (drive, sampling, torque, velocity);
  sb_torque_evaluate (form, x, t, sampling->n, closed);
  double most = 0;
  for (gsize i = 0; i < sampling->n; i++)
    most = fmax (most, fabs (closed[i] - torque[i]));
  return most;
}

static void
torque_solves_its_equation_with_any_lag (void **state)
{
  static const double dampings[] = { 0.1, 0.6, 1 - 1e-9, 1, 1 + 1e-9, 1.3, 3 };
  Drive drive = plain_drive;
  SbDriveForm first = { TRUE, SB_DRIVE_LAG_FIRST, FALSE };
  const double of_first[] = { 0, 8, 0.004, log (500), log (0.003) };
  assert_true (largest_difference (&drive, first, of_first) < 1e-6);
  SbDriveForm second = { TRUE, SB_DRIVE_LAG_SECOND, FALSE };
  drive.lag_order = 2;
  for (gsize i = 0; i < G_N_ELEMENTS (dampings); i++) {
    drive.lag_damping = dampings[i];
    const double of_second[] = { 0, 8, 0.004, log (500), log (0.003), log (dampings[i]) };
    assert_true (largest_difference (&drive, second, of_second) < 1e-6);
  }
}

static void
torque_without_a_slope_limit_is_the_step_response (void **state)
{
  Drive drive = plain_drive;
  drive.slope_nm_per_s = 1e12; /* a jump at an instant that is a fine step */
  SbDriveForm form = { FALSE, SB_DRIVE_LAG_FIRST, FALSE };
  const double x[] = { 0, 8, 0.004, log (0.003) };
  /* The jump falls on the end of a Runge–Kutta step, of which one of six parts sees it: 8 / 6 · h / τ. */
  double h = close_sampling.interval_s / FINE_STEPS;
  assert_true (largest_difference (&drive, form, x) < 8 * h / 0.003);
}

/* Derivatives by central differences of the residuals. */
static void
derivatives_are_those_of_the_residuals (void **state)
{
  enum { N = 200 };
  double t[N], torque[N] = { 0 }, sd[N], low[N], high[N];
  static double jacobian[N * SB_DRIVE_MOST_PARAMETERS];
  for (int i = 0; i < N; i++) {
    t[i] = 0.0004 * (i - 10) + 1e-5; /* clear of the instants at which pieces join */
    sd[i] = 0.5 + 0.01 * i;
  }
  SbTorqueProblem problem = { { TRUE, SB_DRIVE_LAG_SECOND, TRUE }, { N, t, torque, sd } };
  double x[] = { 0.2, 8, 0.00412, log (500), log (0.002), log (0.7), 0.5, 0.02313, 60, 15 };
  gsize p = sb_torque_n_parameters (problem.form);
  assert_int_equal (p, G_N_ELEMENTS (x));
  sb_torque_residuals (x, &problem, NULL, jacobian);
  for (gsize k = 0; k < p; k++) {
    double at = x[k], step = 1e-6 * fmax (fabs (at), 1e-3), largest = 0;
    x[k] = at - step;
    sb_torque_residuals (x, &problem, low, NULL);
    x[k] = at + step;
    sb_torque_residuals (x, &problem, high, NULL);
    x[k] = at;
    for (int i = 0; i < N; i++)
      largest = fmax (largest, fabs (high[i] - low[i]) / (2 * step));
    for (int i = 0; i < N; i++)
      assert_close (jacobian[(gsize) i * p + k], (high[i] - low[i]) / (2 * step), 1e-4 * largest + 1e-6);
  }
}

/* ω = (T − Tc) / b (1 − e^(−b t / J)) under a constant torque (linear equation of first order, any mechanics text). */
static void
constant_torque_gives_the_exponential_approach (void **state)
{
  enum { N = 400 };
  SbMotion motion = { 0.03, 0.15, 0.5 };
  double torque[N], velocity[N];
  for (int i = 0; i < N; i++)
    torque[i] = 4;
  sb_motion_run (&motion, torque, N, 0.001, 0, velocity);
  for (int i = 0; i < N; i++)
    assert_close (velocity[i], 3.5 / 0.15 * (1 - exp (-5 * 0.001 * i)), 1e-11);
}

/* Without damping ω = ∫ (T − Tc) dt / J: a ramp of torque from 0 leaves friction at Tc / s. */
static void
friction_holds_until_the_torque_leaves_it (void **state)
{
  enum { N = 101 };
  SbMotion motion = { 0.02, 0, 0.515 };
  double torque[N], velocity[N];
  for (int i = 0; i < N; i++)
    torque[i] = 0.1 * i; /* 100 N·m/s: leaves at 5.15 ms, between two samples */
  sb_motion_run (&motion, torque, N, 0.001, 0, velocity);
  for (int i = 0; i < N; i++) {
    double since = fmax (0.001 * i - 0.00515, 0);
    assert_close (velocity[i], 100 * since * since / 2 / 0.02, 1e-10);
  }
}

static void
motion_to_either_side_is_alike_and_ends_in_rest (void **state)
{
  enum { N = 400 };
  SbMotion motion = { 0.03, 0.05, 0.8 };
  double there[N], back[N], forward[N], backward[N];
  for (int i = 0; i < N; i++) {
    there[i] = i < 100 ? 3 : 0;
    back[i] = -there[i];
  }
  sb_motion_run (&motion, there, N, 0.001, 0, forward);
  sb_motion_run (&motion, back, N, 0.001, 0, backward);
  for (int i = 0; i < N; i++)
    assert_close (backward[i], -forward[i], 0);
  assert_true (forward[99] > 5);
  assert_close (forward[N - 1], 0, 0); /* 0.03 · 6.8 / 0.8 < 0.26 s of rubbing */
}

static void
motion_of_a_ramped_torque_is_that_of_the_equation (void **state)
{
  Drive drive = plain_drive;
  drive.lag_order = 0;
  Sampling sampling = { 1000, 50, 0.0002 };
  g_autofree double *torque = g_new (double, sampling.n);
  g_autofree double *velocity = g_new (double, sampling.n);
  g_autofree double *run = g_new (double, sampling.n);
  drive_run (&drive, &sampling, torque, velocity);
  SbMotion motion = { drive.inertia_kg_m2, drive.damping_nm_s, drive.friction_nm };
  sb_motion_run (&motion, torque, sampling.n, sampling.interval_s, 0, run);
  for (gsize i = 0; i < sampling.n; i++)
    assert_close (run[i], velocity[i], 1e-4); /* the two ends of the ramp fall on samples; fine steps at break-away */
}

/* Residuals that are pure in a direction that no column has: nothing moves; a column itself: exactly −1. */
static void
tangent_steps_undo_a_change_of_their_own_parameter (void **state)
{
  enum { N = 200 };
  double t[N], torque[N] = { 0 }, sd[N], f[N], step[SB_DRIVE_MOST_PARAMETERS];
  for (int i = 0; i < N; i++) {
    t[i] = 0.0004 * (i - 10) + 1e-5;
    sd[i] = 1;
  }
  SbTorqueProblem problem = { { TRUE, SB_DRIVE_LAG_FIRST, FALSE }, { N, t, torque, sd } };
  SbDriveProblem drive = { sb_torque_residuals, &problem, N, 5 };
  const double x[] = { 0, 8, 0.004, log (500), log (0.003) };
  SbDriveTangent tangent;
  sb_drive_tangent_init (&tangent, &drive, x);
  for (gsize k = 0; k < 5; k++) {
    for (gsize i = 0; i < N; i++)
      f[i] = tangent.jacobian[i * 5 + k];
    sb_drive_tangent_step (&tangent, N, f, step);
    for (gsize a = 0; a < 5; a++) {
      if (!is_close (step[a], a == k ? -1 : 0, 1e-6))
        print_error ("step %zu of parameter %zu is %g\n", a, k, step[a]);
      assert_true (is_close (step[a], a == k ? -1 : 0, 1e-6));
      assert_false (tangent.open[a]);
    }
  }
  sb_drive_tangent_clear (&tangent);
}

int
main (void)
{
  gsl_set_error_handler_off ();
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (torque_solves_its_equation_with_any_lag),
    cmocka_unit_test (torque_without_a_slope_limit_is_the_step_response),
    cmocka_unit_test (derivatives_are_those_of_the_residuals),
    cmocka_unit_test (constant_torque_gives_the_exponential_approach),
    cmocka_unit_test (friction_holds_until_the_torque_leaves_it),
    cmocka_unit_test (motion_to_either_side_is_alike_and_ends_in_rest),
    cmocka_unit_test (motion_of_a_ramped_torque_is_that_of_the_equation),
    cmocka_unit_test (tangent_steps_undo_a_change_of_their_own_parameter),
  };
  return cmocka_run_group_tests_name ("parts of the drive model", tests, NULL, NULL);
}
