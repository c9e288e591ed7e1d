/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive_motion.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

#include <math.h>
#include <string.h>

#define MOST_ITERATIONS 60
#define TOLERANCE       1e-7
/* The other starts only have to show that they end where the first one does. */
#define CHECK_TOLERANCE 1e-3
#define N_STARTS        3
#define LOG_STEP        1e-5
#define RATIO_STEP      1e-5
/* Sums of squares that differ by less, as a share, are the same end. */
#define SAME_END 1e-3

/* What a step of a given length does to the velocity: ω ← keep · ω + from_first · u₀ + from_rise · (u₁ − u₀), with
 * u = T − Tc sgn ω at the ends of the step. */
typedef struct {
  double keep, from_first, from_rise;
} Advance;

static Advance
advance_of (const SbMotion *motion, double step_s)
{
  double a = motion->damping_nm_s / motion->inertia_kg_m2, z = a * step_s;
  if (fabs (z) < 1e-4) /* series, where the differences would cancel */
    return (Advance){
      exp (-z),
      step_s * (1 - z / 2 * (1 - z / 3)) / motion->inertia_kg_m2,
      step_s * (0.5 - z / 6 * (1 - z / 4)) / motion->inertia_kg_m2,
    };
  double phi = -expm1 (-z) / a;
  return (Advance){ exp (-z), phi / motion->inertia_kg_m2, (1 - phi / step_s) / motion->damping_nm_s };
}

/* From rest: nothing until the torque leaves the friction, within the step where it does. */
static double
leave_rest (const SbMotion *motion, const Advance *whole, double step_s, double from_nm, double to_nm)
{
  double friction = fmax (motion->friction_nm, 0);
  double side = fabs (from_nm) > friction ? from_nm : to_nm;
  double sign = side > 0 ? 1 : -1, first = sign * from_nm - friction, last = sign * to_nm - friction;
  if (!(first > 0) && !(last > 0))
    return 0;
  if (first > 0)
    return sign * fmax (whole->from_first * first + whole->from_rise * (last - first), 0);
  Advance rest = advance_of (motion, step_s * last / (last - first));
  return sign * rest.from_rise * last;
}

void
sb_motion_run (const SbMotion *motion, const double *torque_nm, gsize n, double step_s, double start_rad_s,
               double *velocity_rad_s)
{
  Advance whole = advance_of (motion, step_s);
  double velocity = start_rad_s;
  for (gsize i = 0; i < n; i++) {
    velocity_rad_s[i] = velocity;
    if (i + 1 == n)
      break;
    double from = torque_nm[i], to = torque_nm[i + 1];
    if (!(fabs (velocity) > 0)) {
      velocity = leave_rest (motion, &whole, step_s, from, to);
      continue;
    }
    double sign = velocity > 0 ? 1 : -1;
    velocity = whole.keep * velocity + whole.from_first * (from - sign * motion->friction_nm)
               + whole.from_rise * (to - from);
    if (sign * velocity < 0)
      velocity = 0;
  }
}

SbMotion
sb_motion_from (const double *x)
{
  return (SbMotion){ exp (x[0]), x[1], x[2] };
}

static void
run_problem (const SbMotionProblem *problem, const double *x, double *velocity)
{
  SbMotion motion = sb_motion_from (x);
  sb_motion_run (&motion, problem->torque_nm, problem->n, problem->step_s, problem->start_rad_s, velocity);
}

static double
largest (const double *y, gsize n)
{
  double most = 0;
  for (gsize i = 0; i < n; i++)
    most = fmax (most, fabs (y[i]));
  return most;
}

static void
fill_jacobian (const SbMotionProblem *problem, const double *x, double *jacobian)
{
  double torque = largest (problem->torque_nm, problem->n), speed = largest (problem->velocity_rad_s, problem->n);
  const double steps[SB_MOTION_PARAMETERS] = { LOG_STEP, RATIO_STEP * torque / speed, RATIO_STEP * torque };
  g_autofree double *at = g_new (double, problem->n);
  g_autofree double *beyond = g_new (double, problem->n);
  run_problem (problem, x, at);
  for (gsize k = 0; k < SB_MOTION_PARAMETERS; k++) {
    double moved[SB_MOTION_PARAMETERS];
    memcpy (moved, x, sizeof moved);
    moved[k] = x[k] + steps[k];
    run_problem (problem, moved, beyond);
    for (gsize i = 0; i < problem->n; i++)
      jacobian[i * SB_MOTION_PARAMETERS + k] = (beyond[i] - at[i]) / steps[k] / problem->sd_rad_s[i];
  }
}

void
sb_motion_residuals (const double *x, gpointer data, double *f, double *jacobian)
{
  const SbMotionProblem *problem = data;
  if (f != NULL) {
    run_problem (problem, x, f);
    for (gsize i = 0; i < problem->n; i++)
      f[i] = (f[i] - problem->velocity_rad_s[i]) / problem->sd_rad_s[i];
  }
  if (jacobian != NULL)
    fill_jacobian (problem, x, jacobian);
}

/* ∫T dt = J (ω − ω₀) + b ∫ω dt + Tc t from where the motion is a fiftieth of its largest on; least squares in J, b, Tc.
 */
static gboolean
balance_impulse (const SbMotionProblem *problem, double *x)
{
  double from = 0.02 * largest (problem->velocity_rad_s, problem->n), h = problem->step_s;
  gsize first = 0;
  while (first + 1 < problem->n && fabs (problem->velocity_rad_s[first]) < from)
    first++;
  double normal[9] = { 0 }, right[3] = { 0 }, impulse = 0, angle = 0;
  for (gsize i = first + 1; i < problem->n; i++) {
    const double *w = problem->velocity_rad_s, *torque = problem->torque_nm;
    impulse += h * (torque[i] + torque[i - 1]) / 2;
    angle += h * (w[i] + w[i - 1]) / 2;
    double sign = w[i] < 0 ? -1 : 1;
    const double row[3] = { w[i] - w[first], angle, sign * (double) (i - first) * h };
    for (gsize a = 0; a < 3; a++) {
      right[a] += row[a] * impulse;
      for (gsize b = 0; b < 3; b++)
        normal[a * 3 + b] += row[a] * row[b];
    }
  }
  gsl_matrix_view matrix = gsl_matrix_view_array (normal, 3, 3);
  gsl_vector_view sums = gsl_vector_view_array (right, 3);
  double found[3];
  gsl_vector_view solution = gsl_vector_view_array (found, 3);
  if (gsl_linalg_HH_solve (&matrix.matrix, &sums.vector, &solution.vector) != GSL_SUCCESS || !(found[0] > 0))
    return FALSE;
  x[0] = log (found[0]);
  x[1] = found[1];
  x[2] = found[2];
  return isfinite (x[0]) && isfinite (x[1]) && isfinite (x[2]);
}

/* Inertia from the impulse of the whole curve as if nothing rubbed. */
static double
log_free_inertia (const SbMotionProblem *problem)
{
  double impulse = 0, speed = 0;
  gsize peak = 0;
  for (gsize i = 0; i < problem->n; i++)
    if (fabs (problem->velocity_rad_s[i]) > speed)
      speed = fabs (problem->velocity_rad_s[peak = i]);
  for (gsize i = 1; i <= peak; i++)
    impulse += problem->step_s * (problem->torque_nm[i] + problem->torque_nm[i - 1]) / 2;
  return log (fmax (fabs (impulse), 1e-12) / fmax (speed, 1e-12));
}

gboolean
sb_motion_fit (const SbMotionProblem *problem, double *x, guint *n_agreeing)
{
  SbMotionProblem copy = *problem;
  SbDriveProblem fit = { sb_motion_residuals, &copy, problem->n, SB_MOTION_PARAMETERS };
  double torque = largest (problem->torque_nm, problem->n), speed = largest (problem->velocity_rad_s, problem->n);
  double free_inertia = log_free_inertia (problem);
  double starts[N_STARTS][SB_MOTION_PARAMETERS] = {
    { free_inertia, 0.3 * torque / speed, 0.02 * torque },
    { free_inertia - 0.7, 0.7 * torque / speed, 0.1 * torque },
    { free_inertia, 0, 0.3 * torque },
  };
  double balanced[SB_MOTION_PARAMETERS];
  if (balance_impulse (problem, balanced))
    memcpy (starts[0], balanced, sizeof balanced);
  double squares[N_STARTS];
  gsize winner = 0;
  for (gsize s = 0; s < N_STARTS; s++) {
    double tolerance = s == 0 ? TOLERANCE : CHECK_TOLERANCE;
    if (sb_drive_minimise (&fit, starts[s], tolerance, MOST_ITERATIONS, &squares[s]) != SB_DRIVE_END_CONVERGED)
      squares[s] = HUGE_VAL;
    winner = squares[s] < squares[winner] ? s : winner;
  }
  double best = squares[winner];
  if (!isfinite (best)
      || sb_drive_minimise (&fit, starts[winner], TOLERANCE, MOST_ITERATIONS, &best) != SB_DRIVE_END_CONVERGED)
    return FALSE;
  memcpy (x, starts[winner], sizeof starts[winner]);
  *n_agreeing = 0;
  for (gsize s = 0; s < N_STARTS; s++)
    *n_agreeing += isfinite (squares[s]) && squares[s] <= best * (1 + SAME_END) ? 1 : 0;
  return TRUE;
}
