/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "modes.h"

#include "poles.h"

#include <gsl/gsl_complex_math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

#include <math.h>
#include <string.h>

/* Parameters of one mode: cosine and sine amplitude, decay, angular frequency; after the modes, offset and drift. */
#define PER_MODE         4
#define N_EXTRA          2
#define MOST_PARAMETERS  (PER_MODE * SB_MAX_MODES + N_EXTRA)
#define POINTS_PER_CYCLE 12
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
/* Another mode has to halve what the fit leaves. */
#define WORTHWHILE 0.5
/* What is left is noise below the first, rounding below the second (of the record's RMS). */
#define NOISE_REACHED    1.2
#define ROUNDING_REACHED 1e-7
/* Guesses are held within these decays per radian, and to more than a cycle in the record. */
#define SLOWEST_DECAY (-0.1)
#define FASTEST_DECAY 3
#define FEWEST_CYCLES 1
/* Times are even to this share of a step. */
#define UNEVEN 1e-6

/* The record in units of its own: time in radians of the first guess, values in RMS. */
typedef struct {
  const double *u, *y;
  gsize n, n_modes;
  double step; /* of u, when it is even; else 0 */
} Problem;

typedef struct {
  double x[MOST_PARAMETERS], variance[MOST_PARAMETERS * MOST_PARAMETERS];
  double squares; /* of what the fit leaves */
} Solution;

static gsize
n_parameters (gsize n_modes)
{
  return PER_MODE * n_modes + N_EXTRA;
}

/* e^(-decay u) times cosine and sine of omega u, at one point of the record after the other. On even times a point
 * follows from the one before by a turn. */
typedef struct {
  double c, s, turn_c, turn_s;
} Wave;

static void
waves_at (const Problem *problem, const double *x, gsize i, Wave *waves)
{
  for (gsize m = 0; m < problem->n_modes; m++) {
    double decay = x[PER_MODE * m + 2], omega = x[PER_MODE * m + 3], u = problem->u[i];
    Wave *wave = &waves[m];
    if (i > 0 && problem->step > 0) {
      double c = wave->c * wave->turn_c - wave->s * wave->turn_s;
      wave->s = wave->c * wave->turn_s + wave->s * wave->turn_c;
      wave->c = c;
      continue;
    }
    double envelope = exp (fmin (-decay * u, 50)), shrink = exp (-decay * problem->step);
    *wave = (Wave){ envelope * cos (omega * u), envelope * sin (omega * u), shrink * cos (omega * problem->step),
                    shrink * sin (omega * problem->step) };
  }
}

/* Sum of squares, half its gradient, and the normal matrix (lower half) at one place. */
typedef struct {
  double squares, gradient[MOST_PARAMETERS], normal[MOST_PARAMETERS * MOST_PARAMETERS];
} Local;

static void
look_at (const Problem *problem, const double *x, Local *local)
{
  gsize n_modes = problem->n_modes, p = n_parameters (n_modes);
  double row[MOST_PARAMETERS];
  Wave wave[SB_MAX_MODES];
  memset (local, 0, sizeof *local);
  for (gsize i = 0; i < problem->n; i++) {
    double u = problem->u[i], rest = x[p - 2] + x[p - 1] * u - problem->y[i];
    waves_at (problem, x, i, wave);
    for (gsize m = 0; m < n_modes; m++) {
      const double *q = x + PER_MODE * m;
      double *r = row + PER_MODE * m, along = q[0] * wave[m].c + q[1] * wave[m].s;
      r[0] = wave[m].c;
      r[1] = wave[m].s;
      r[2] = -u * along;
      r[3] = u * (q[1] * wave[m].c - q[0] * wave[m].s);
      rest += along;
    }
    row[p - 2] = 1;
    row[p - 1] = u;
    local->squares += rest * rest;
    for (gsize a = 0; a < p; a++) {
      local->gradient[a] += row[a] * rest;
      for (gsize b = 0; b <= a; b++)
        local->normal[a * p + b] += row[a] * row[b];
    }
  }
}

/* Amplitudes, offset and drift are linear: they follow from the decays and frequencies in `x` by the normal equations.
 */
static gboolean
solve_amplitudes (const Problem *problem, double *x)
{
  gsize k = 2 * problem->n_modes + N_EXTRA;
  double normal[MOST_PARAMETERS * MOST_PARAMETERS] = { 0 }, right[MOST_PARAMETERS] = { 0 };
  double solution[MOST_PARAMETERS], basis[MOST_PARAMETERS];
  Wave wave[SB_MAX_MODES];
  for (gsize i = 0; i < problem->n; i++) {
    waves_at (problem, x, i, wave);
    for (gsize m = 0; m < problem->n_modes; m++) {
      basis[2 * m] = wave[m].c;
      basis[2 * m + 1] = wave[m].s;
    }
    basis[k - 2] = 1;
    basis[k - 1] = problem->u[i];
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
    x[PER_MODE * m] = solution[2 * m];
    x[PER_MODE * m + 1] = solution[2 * m + 1];
  }
  x[PER_MODE * problem->n_modes] = solution[k - 2];
  x[PER_MODE * problem->n_modes + 1] = solution[k - 1];
  return TRUE;
}

static double
energy (const double *mode, double length)
{
  double squares = mode[0] * mode[0] + mode[1] * mode[1], decay = 2 * mode[2];
  double mean_square = fabs (decay * length) > 1e-6 ? -expm1 (-decay * length) / decay : length;
  return squares * mean_square / 2;
}

static void
sort_by_energy (double *modes, gsize n_modes, double length)
{
  for (gsize i = 1; i < n_modes; i++)
    for (gsize k = i; k > 0; k--) {
      double *a = modes + PER_MODE * (k - 1), *b = modes + PER_MODE * k;
      if (energy (a, length) >= energy (b, length))
        break;
      for (gsize p = 0; p < PER_MODE; p++) {
        double swap = a[p];
        a[p] = b[p];
        b[p] = swap;
      }
    }
}

/* Starting values of at most SB_MAX_MODES modes, strongest first. */
static gsize
guess (const Problem *problem, double *modes)
{
  double length = problem->u[problem->n - 1], step = length / (double) (problem->n - 1);
  gsize stride = (gsize) fmax (1, floor (2 * G_PI / step / POINTS_PER_CYCLE)), n = problem->n / stride;
  g_autofree double *coarse = g_new0 (double, MAX (n, 1));
  for (gsize i = 0; i < n * stride; i++)
    coarse[i / stride] += problem->y[i];
  SbPole pole[SB_MAX_POLES];
  gsize n_poles = sb_poles_estimate (coarse, n, pole), n_modes = 0;
  for (gsize i = 0; i < n_poles; i++) {
    double decay = pole[i].decay / (step * (double) stride), omega = pole[i].omega / (step * (double) stride);
    if (!(omega * length > FEWEST_CYCLES * 2 * G_PI))
      continue;
    modes[PER_MODE * n_modes + 2] = CLAMP (decay, SLOWEST_DECAY * omega, FASTEST_DECAY * omega);
    modes[PER_MODE * n_modes + 3] = omega;
    n_modes++;
  }
  if (n_modes == 0) {
    modes[2] = 0.05;
    modes[3] = 1;
    n_modes = 1;
  }
  double x[MOST_PARAMETERS] = { 0 };
  Problem all = *problem;
  all.n_modes = n_modes;
  memcpy (x, modes, PER_MODE * n_modes * sizeof *x);
  if (!solve_amplitudes (&all, x))
    return n_modes;
  memcpy (modes, x, PER_MODE * n_modes * sizeof *x);
  sort_by_energy (modes, n_modes, length);
  return n_modes;
}

static gboolean
is_sane (const Problem *problem, const double *x)
{
  double length = problem->u[problem->n - 1], step = length / (double) (problem->n - 1);
  for (gsize k = 0; k < n_parameters (problem->n_modes); k++)
    if (!isfinite (x[k]))
      return FALSE;
  for (gsize m = 0; m < problem->n_modes; m++) {
    const double *q = x + PER_MODE * m;
    if (!(q[3] * length > FEWEST_CYCLES * 2 * G_PI) || q[3] * step >= G_PI || q[2] * length < -50)
      return FALSE;
  }
  return TRUE;
}

/* The step from `local`, damped by `damping` of the normal matrix' diagonal (Marquardt 1963). */
static gboolean
damped_step (const Local *local, gsize p, double damping, double *step)
{
  double matrix[MOST_PARAMETERS * MOST_PARAMETERS], right[MOST_PARAMETERS];
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
descend (const Problem *problem, double goal, double *x, Local *local)
{
  gsize p = n_parameters (problem->n_modes);
  double damping = FIRST_DAMPING;
  for (int i = 0; i < MOST_ITERATIONS && damping < MOST_DAMPING; i++) {
    double step[MOST_PARAMETERS], there[MOST_PARAMETERS];
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

static gboolean
minimize (const Problem *problem, double goal, Solution *solution)
{
  gsize p = n_parameters (problem->n_modes);
  Local local;
  if (problem->n <= p || !solve_amplitudes (problem, solution->x))
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

/* As many of the guessed modes as pay for themselves. */
static gboolean
fit_modes (Problem *problem, const double *guesses, gsize n_guesses, double noise, Solution *best)
{
  gsize n_modes = 0;
  for (gsize k = 1; k <= n_guesses; k++) {
    Solution next = { 0 };
    memcpy (next.x, guesses, PER_MODE * k * sizeof *guesses);
    memcpy (next.x, best->x, PER_MODE * n_modes * sizeof *guesses); /* what is already fitted is a better guess */
    problem->n_modes = k;
    double goal = n_modes > 0 ? WORTHWHILE * best->squares : (double) INFINITY;
    if (!minimize (problem, goal, &next) || next.squares > goal)
      continue;
    *best = next;
    n_modes = k;
    double left = sqrt (next.squares / (double) problem->n);
    if (left <= NOISE_REACHED * noise || left <= ROUNDING_REACHED)
      break;
  }
  problem->n_modes = n_modes;
  return n_modes > 0;
}

/* What averaging over a block does to e^(s t): a factor, which leaves decay and frequency as they are. */
static gsl_complex
block_gain (double decay_per_s, double omega, double interval_s, gsize block)
{
  gsl_complex half = gsl_complex_rect (-decay_per_s * interval_s / 2, omega * interval_s / 2);
  if (block == 1)
    return gsl_complex_rect (1, 0);
  return gsl_complex_div (gsl_complex_sinh (gsl_complex_mul_real (half, (double) block)),
                          gsl_complex_mul_real (gsl_complex_sinh (half), (double) block));
}

/* `per_s` turns the problem's unit of time into seconds. */
static SbMode
mode_of (const Problem *problem, const Solution *solution, gsize m, double per_s, double size, double interval_s,
         gsize block)
{
  gsize p = n_parameters (problem->n_modes), at = PER_MODE * m;
  const double *q = solution->x + at;
  double decay = q[2], omega = q[3], radius = hypot (decay, omega);
  double noise2 = solution->squares / (double) (problem->n - p);
  double v_dd = noise2 * solution->variance[(at + 2) * p + at + 2];
  double v_ww = noise2 * solution->variance[(at + 3) * p + at + 3];
  double v_dw = noise2 * solution->variance[(at + 2) * p + at + 3];
  double by_decay = omega * omega / pow (radius, 3), by_omega = -decay * omega / pow (radius, 3);
  double v_zeta = by_decay * by_decay * v_dd + 2 * by_decay * by_omega * v_dw + by_omega * by_omega * v_ww;
  gsl_complex gain = block_gain (decay * per_s, omega * per_s, interval_s, block);
  return (SbMode){
    .amplitude = size * hypot (q[0], q[1]) / gsl_complex_abs (gain),
    .decay_per_s = decay * per_s,
    .frequency_hz = omega * per_s / (2 * G_PI),
    .phase_rad = remainder (atan2 (-q[1], q[0]) - gsl_complex_arg (gain), 2 * G_PI),
    .damping_ratio = decay / radius,
    .frequency_sd_hz = sqrt (v_ww) * per_s / (2 * G_PI),
    .damping_ratio_sd = sqrt (fmax (0, v_zeta)),
  };
}

static double
even_step (const double *u, gsize n)
{
  double step = (u[n - 1] - u[0]) / (double) (n - 1);
  for (gsize i = 0; i < n; i++)
    if (fabs (u[i] - (u[0] + (double) i * step)) > UNEVEN * step)
      return 0;
  return step;
}

gboolean
sb_modes_fit (const SbRecord *record, double interval_s, double start_hz, double noise, SbModeFit *fit)
{
  double squares = 0, per_s = 2 * G_PI * start_hz;
  for (gsize i = 0; i < record->n; i++)
    squares += record->y[i] * record->y[i];
  double size = sqrt (squares / (double) MAX (record->n, 1));
  if (record->n <= n_parameters (1) || !(size > 0) || !(per_s > 0))
    return FALSE;
  g_autofree double *u = g_new (double, record->n);
  g_autofree double *y = g_new (double, record->n);
  for (gsize i = 0; i < record->n; i++) {
    u[i] = record->t_s[i] * per_s;
    y[i] = record->y[i] / size;
  }
  Problem problem = { .u = u, .y = y, .n = record->n, .step = even_step (u, record->n) };
  double guesses[PER_MODE * SB_MAX_MODES] = { 0 };
  gsize n_guesses = guess (&problem, guesses);
  Solution solution = { 0 };
  if (!fit_modes (&problem, guesses, n_guesses, noise / size, &solution))
    return FALSE;

  gsize n_modes = problem.n_modes;
  *fit = (SbModeFit){
    .n_modes = n_modes,
    .offset = size * solution.x[PER_MODE * n_modes],
    .drift_per_s = size * solution.x[PER_MODE * n_modes + 1] * per_s,
    .rms = size * sqrt (solution.squares / (double) record->n),
  };
  for (gsize m = 0; m < n_modes; m++)
    fit->mode[m] = mode_of (&problem, &solution, m, per_s, size, interval_s, record->block);
  for (gsize i = 1; i < n_modes; i++) /* the fit may have changed the order */
    for (gsize k = i; k > 0; k--) {
      double length_s = record->t_s[record->n - 1];
      double a[PER_MODE] = { fit->mode[k - 1].amplitude, 0, fit->mode[k - 1].decay_per_s, 0 };
      double b[PER_MODE] = { fit->mode[k].amplitude, 0, fit->mode[k].decay_per_s, 0 };
      if (energy (a, length_s) >= energy (b, length_s))
        break;
      SbMode swap = fit->mode[k];
      fit->mode[k] = fit->mode[k - 1];
      fit->mode[k - 1] = swap;
    }
  return TRUE;
}
