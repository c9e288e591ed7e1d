/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "modes_solve.h"

#include "steady_math.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

#include <math.h>
#include <string.h>

/* The descent: so many steps, until one moves nothing by more than a share of itself or gains no more than a share. */
#define MOST_ITERATIONS 40
#define FIRST_DAMPING   1e-3
#define MOST_DAMPING    1e9
#define STILL           1e-9
#define LITTLE_GAINED   1e-8
/* Too far from the goal, this gain a step does not lead there. */
#define HOPELESS_GAIN 0.02
/* A start that leaves more than this much of the goal is no start: a mode that is there makes itself felt at its guess.
 */
#define FARTHEST_START 1.9
/* A rest of the rise lasts a step. */
#define FASTEST_REST 1

gsize
sb_modes_n_parameters (const SbModesProblem *problem)
{
  return SB_PER_MODE * problem->n_modes + (problem->with_rest ? 4 : 2);
}

/* e^(-decay u) times cosine and sine of omega u, at one point of the record after the other. On even times a point
 * follows from the one before by a turn. The rest of the rise is one of omega 0. */
typedef struct {
  double c, s, turn_c, turn_s;
} Wave;

static void
waves_at (const SbModesProblem *problem, const double *x, gsize i, Wave *waves)
{
  gsize n = problem->n_modes, n_waves = problem->with_rest ? n + 1 : n;
  for (gsize m = 0; m < n_waves; m++) {
    double decay = x[SB_PER_MODE * m + (m < n ? 2 : 3)], omega = m < n ? x[SB_PER_MODE * m + 3] : 0, u = problem->u[i];
    Wave *wave = &waves[m];
    if (i > 0 && problem->step > 0) {
      double c = wave->c * wave->turn_c - wave->s * wave->turn_s;
      wave->s = wave->c * wave->turn_s + wave->s * wave->turn_c;
      wave->c = c;
      continue;
    }
    double envelope = sb_exp (fmin (-decay * u, 50)), shrink = sb_exp (-decay * problem->step);
    *wave = (Wave){ envelope * sb_cos (omega * u), envelope * sb_sin (omega * u),
                    shrink * sb_cos (omega * problem->step), shrink * sb_sin (omega * problem->step) };
  }
}

/* Sum of squares, half its gradient, and the normal matrix (lower half) at one place. */
typedef struct {
  double squares, gradient[SB_MOST_OF_MODES], normal[SB_MOST_OF_MODES * SB_MOST_OF_MODES];
} Local;

static void
look_at (const SbModesProblem *problem, const double *x, Local *local)
{
  gsize n_modes = problem->n_modes, p = sb_modes_n_parameters (problem), extra = SB_PER_MODE * n_modes;
  double row[SB_MOST_OF_MODES];
  Wave wave[SB_MAX_MODES + 1];
  memset (local, 0, sizeof *local);
  for (gsize i = 0; i < problem->n; i++) {
    double u = problem->u[i], rest = x[extra] + x[extra + 1] * u - problem->y[i];
    waves_at (problem, x, i, wave);
    for (gsize m = 0; m < n_modes; m++) {
      const double *q = x + SB_PER_MODE * m;
      double *r = row + SB_PER_MODE * m, along = q[0] * wave[m].c + q[1] * wave[m].s;
      r[0] = wave[m].c;
      r[1] = wave[m].s;
      r[2] = -u * along;
      r[3] = u * (q[1] * wave[m].c - q[0] * wave[m].s);
      rest += along;
    }
    row[extra] = 1;
    row[extra + 1] = u;
    if (problem->with_rest) {
      row[extra + 2] = wave[n_modes].c;
      row[extra + 3] = -u * x[extra + 2] * wave[n_modes].c;
      rest += x[extra + 2] * wave[n_modes].c;
    }
    local->squares += rest * rest;
    for (gsize a = 0; a < p; a++) {
      local->gradient[a] += row[a] * rest;
      for (gsize b = 0; b <= a; b++)
        local->normal[a * p + b] += row[a] * row[b];
    }
  }
}

void
sb_modes_residuals (const SbModesProblem *problem, const double *x, double *left)
{
  gsize n_modes = problem->n_modes, extra = SB_PER_MODE * n_modes;
  Wave wave[SB_MAX_MODES + 1];
  for (gsize i = 0; i < problem->n; i++) {
    waves_at (problem, x, i, wave);
    left[i] = problem->y[i] - x[extra] - x[extra + 1] * problem->u[i];
    for (gsize m = 0; m < n_modes; m++)
      left[i] -= x[SB_PER_MODE * m] * wave[m].c + x[SB_PER_MODE * m + 1] * wave[m].s;
    if (problem->with_rest)
      left[i] -= x[extra + 2] * wave[n_modes].c;
  }
}

/* By the normal equations. */
gboolean
sb_modes_solve_amplitudes (const SbModesProblem *problem, double *x)
{
  gsize line = 2 * problem->n_modes, k = line + (problem->with_rest ? 3 : 2);
  double normal[SB_MOST_OF_MODES * SB_MOST_OF_MODES] = { 0 }, right[SB_MOST_OF_MODES] = { 0 };
  double solution[SB_MOST_OF_MODES], basis[SB_MOST_OF_MODES];
  Wave wave[SB_MAX_MODES + 1];
  for (gsize i = 0; i < problem->n; i++) {
    waves_at (problem, x, i, wave);
    for (gsize m = 0; m < problem->n_modes; m++) {
      basis[2 * m] = wave[m].c;
      basis[2 * m + 1] = wave[m].s;
    }
    basis[line] = 1;
    basis[line + 1] = problem->u[i];
    basis[line + 2] = problem->with_rest ? wave[problem->n_modes].c : 0;
    for (gsize a = 0; a < k; a++) {
      right[a] += basis[a] * problem->y[i];
      for (gsize b = 0; b <= a; b++)
        normal[a * k + b] += basis[a] * basis[b];
    }
  }
  gsl_matrix_view matrix = gsl_matrix_view_array (normal, k, k);
  gsl_vector_view b = gsl_vector_view_array (right, k), out = gsl_vector_view_array (solution, k);
  if (gsl_linalg_cholesky_decomp1 (&matrix.matrix) != GSL_SUCCESS
      || gsl_linalg_cholesky_solve (&matrix.matrix, &b.vector, &out.vector) != GSL_SUCCESS)
    return FALSE;
  for (gsize m = 0; m < problem->n_modes; m++) {
    x[SB_PER_MODE * m] = solution[2 * m];
    x[SB_PER_MODE * m + 1] = solution[2 * m + 1];
  }
  for (gsize a = line; a < k; a++)
    x[SB_PER_MODE * problem->n_modes + a - line] = solution[a];
  return TRUE;
}

static gboolean
is_sane (const SbModesProblem *problem, const double *x)
{
  double length = problem->u[problem->n - 1], step = length / (double) (problem->n - 1);
  for (gsize k = 0; k < sb_modes_n_parameters (problem); k++)
    if (!isfinite (x[k]))
      return FALSE;
  for (gsize m = 0; m < problem->n_modes; m++) {
    const double *q = x + SB_PER_MODE * m;
    if (!(q[3] * length > SB_FEWEST_CYCLES * 2 * G_PI) || q[3] * step >= G_PI || q[2] * length < -50)
      return FALSE;
  }
  double rest_decay = x[SB_PER_MODE * problem->n_modes + 3];
  return !problem->with_rest
         || (rest_decay * length >= problem->rest_is_gone && rest_decay <= problem->fastest_rest
             && rest_decay * step <= FASTEST_REST);
}

/* The step from `local`, damped by `damping` of the normal matrix' diagonal (Marquardt 1963). */
static gboolean
damped_step (const Local *local, gsize p, double damping, double *step)
{
  double matrix[SB_MOST_OF_MODES * SB_MOST_OF_MODES], right[SB_MOST_OF_MODES];
  memcpy (matrix, local->normal, p * p * sizeof *matrix);
  for (gsize a = 0; a < p; a++) {
    matrix[a * p + a] *= 1 + damping;
    right[a] = -local->gradient[a];
  }
  gsl_matrix_view m = gsl_matrix_view_array (matrix, p, p);
  gsl_vector_view r = gsl_vector_view_array (right, p), out = gsl_vector_view_array (step, p);
  return gsl_linalg_cholesky_decomp1 (&m.matrix) == GSL_SUCCESS
         && gsl_linalg_cholesky_solve (&m.matrix, &r.vector, &out.vector) == GSL_SUCCESS;
}

/* From x, whose surroundings are `local`, to where the sum of squares is least; both move along. An unfinished descent
 * is looked at all the same: the caller judges by what it leaves. It is given up when it creeps above `goal`. */
static void
descend (const SbModesProblem *problem, double goal, double *x, Local *local)
{
  gsize p = sb_modes_n_parameters (problem);
  double damping = FIRST_DAMPING;
  for (int i = 0; i < MOST_ITERATIONS && damping < MOST_DAMPING; i++) {
    double step[SB_MOST_OF_MODES], there[SB_MOST_OF_MODES];
    Local next;
    if (!damped_step (local, p, damping, step)) {
      damping = fmax (10 * damping, FIRST_DAMPING);
      continue;
    }
    gboolean still = TRUE;
    for (gsize a = 0; a < p; a++) {
      there[a] = x[a] + step[a];
      still = still && fabs (step[a]) <= STILL * (fabs (x[a]) + STILL);
    }
    look_at (problem, there, &next);
    if (!(next.squares <= local->squares)) {
      damping = fmax (10 * damping, FIRST_DAMPING);
      if (still)
        return;
      continue;
    }
    double gained = (local->squares - next.squares) / local->squares;
    still = still || gained <= LITTLE_GAINED || (next.squares > goal && gained < HOPELESS_GAIN);
    memcpy (x, there, p * sizeof *x);
    *local = next;
    damping /= 10;
    if (still)
      return;
  }
}

gboolean
sb_modes_minimize (const SbModesProblem *problem, double goal, SbModesSolution *solution)
{
  gsize p = sb_modes_n_parameters (problem);
  Local local;
  if (problem->n <= p || !sb_modes_solve_amplitudes (problem, solution->x))
    return FALSE;
  look_at (problem, solution->x, &local);
  if (local.squares > FARTHEST_START * goal)
    return FALSE;
  descend (problem, goal, solution->x, &local);
  if (!isfinite (local.squares) || !is_sane (problem, solution->x))
    return FALSE;
  solution->squares = local.squares;
  memcpy (solution->variance, local.normal, p * p * sizeof (double));
  gsl_matrix_view variance = gsl_matrix_view_array (solution->variance, p, p);
  return gsl_linalg_cholesky_decomp1 (&variance.matrix) == GSL_SUCCESS
         && gsl_linalg_cholesky_invert (&variance.matrix) == GSL_SUCCESS;
}
