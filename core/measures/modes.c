/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "modes.h"

#include "modes_solve.h"
#include "modes_weigh.h"
#include "poles.h"
#include "steady_math.h"

#include <gsl/gsl_complex_math.h>

#include <math.h>
#include <string.h>

#define POINTS_PER_CYCLE 12
/* Another mode has to halve what the fit leaves. */
#define WORTHWHILE 0.5
/* A rest of the rise that gains less is taken when white noise alone would gain as much in no more than this share of
 * records. */
#define UNLIKELY 1e-3
/* One that is taken is gone to e^-3 where the record ends, or it is no other thing than drift; one that the modes are
 * weighed for, to e^-1. One that is gone within a radian of the oscillation is not weighed: it hardly pulls the modes,
 * and would cost them scatter. */
#define REST_IS_GONE     3
#define REST_MAY_BE_GONE 1
#define REST_LASTS       1
/* What is left is noise below the first, rounding below the second (of the record's RMS). */
#define NOISE_REACHED    1.2
#define ROUNDING_REACHED 1e-7
/* Guesses are held within these decays per radian. */
#define SLOWEST_DECAY (-0.1)
#define FASTEST_DECAY 3
/* Times are even to this share of a step. */
#define UNEVEN 1e-6

static double
energy (const double *mode, double length)
{
  double squares = mode[0] * mode[0] + mode[1] * mode[1], decay = 2 * mode[2];
  double mean_square = fabs (decay * length) > 1e-6 ? -sb_expm1 (-decay * length) / decay : length;
  return squares * mean_square / 2;
}

static void
swap_doubles (double *a, double *b)
{
  double swap = *a;
  *a = *b;
  *b = swap;
}

static void
sort_by_energy (double *modes, gsize n_modes, double length)
{
  for (gsize i = 1; i < n_modes; i++)
    for (gsize k = i; k > 0; k--) {
      double *a = modes + SB_PER_MODE * (k - 1), *b = modes + SB_PER_MODE * k;
      if (energy (a, length) >= energy (b, length))
        break;
      for (gsize p = 0; p < SB_PER_MODE; p++)
        swap_doubles (&a[p], &b[p]);
    }
}

/* Starting values of at most SB_MAX_MODES modes, strongest first. */
static gsize
guess (const SbModesProblem *problem, double *modes)
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
    if (!(omega * length > SB_FEWEST_CYCLES * 2 * G_PI))
      continue;
    modes[SB_PER_MODE * n_modes + 2] = CLAMP (decay, SLOWEST_DECAY * omega, FASTEST_DECAY * omega);
    modes[SB_PER_MODE * n_modes + 3] = omega;
    n_modes++;
  }
  if (n_modes == 0) {
    modes[2] = 0.05;
    modes[3] = 1;
    n_modes = 1;
  }
  double x[SB_MOST_OF_MODES] = { 0 };
  SbModesProblem all = *problem;
  all.n_modes = n_modes;
  memcpy (x, modes, SB_PER_MODE * n_modes * sizeof *x);
  if (!sb_modes_solve_amplitudes (&all, x))
    return n_modes;
  memcpy (modes, x, SB_PER_MODE * n_modes * sizeof *x);
  sort_by_energy (modes, n_modes, length);
  return n_modes;
}

/* A rest of the rise beside the modes of `best`, when it gets the sum of squares down to `goal`. */
static gboolean
fit_rest (SbModesProblem *problem, double goal, SbModesSolution *best)
{
  static const double starts[] = { 0.1, 0.3, 1, 3 }; /* decays per radian */
  const SbModesSolution without = *best;
  SbModesProblem with = *problem;
  with.with_rest = TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (starts); i++) {
    SbModesSolution next = without;
    next.x[SB_PER_MODE * problem->n_modes + 3] = starts[i];
    if (!sb_modes_minimize (&with, goal, &next) || next.squares > goal)
      continue;
    *best = next;
    goal = next.squares;
    problem->with_rest = TRUE;
  }
  return problem->with_rest;
}

/* The sum of squares that a rest of the rise has to reach so that white noise is no explanation: the F test of two
 * parameters, whose quantile has a closed form. */
static double
unlikely_squares (const SbModesProblem *problem, double squares)
{
  double freedom = (double) problem->n - (double) sb_modes_n_parameters (problem) - 2;
  return freedom > 0 ? squares * sb_pow (UNLIKELY, 2 / freedom) : 0;
}

/* Neighbours of the noise that are alike make it gain more: then it has to gain as much more. */
static void
fit_unlikely_rest (SbModesProblem *problem, SbModesSolution *best)
{
  const SbModesSolution without = *best;
  double goal = unlikely_squares (problem, best->squares);
  if (!fit_rest (problem, goal, best))
    return;
  double power = sb_modes_noise_power (sb_modes_lag1 (problem, best), 0);
  if (best->squares <= without.squares * sb_pow (goal / without.squares, power))
    return;
  problem->with_rest = FALSE;
  *best = without;
}

static gboolean
is_exhausted (const SbModesProblem *problem, double noise, const SbModesSolution *solution)
{
  double left = sqrt (solution->squares / (double) problem->n);
  return left <= NOISE_REACHED * noise || left <= ROUNDING_REACHED;
}

/* As many of the guessed modes as pay for themselves, and what is left of the rise where that pays too: before further
 * modes when it is `early`. */
static gboolean
fit_in_order (SbModesProblem *problem, const double *guesses, gsize n_guesses, double noise, gboolean early,
              SbModesSolution *best)
{
  gsize n_modes = 0;
  for (gsize k = 1; k <= n_guesses; k++) {
    SbModesSolution next = { 0 };
    memcpy (next.x, guesses, SB_PER_MODE * k * sizeof *guesses);
    memcpy (next.x, best->x, SB_PER_MODE * n_modes * sizeof *guesses); /* what is already fitted is a better guess */
    next.x[SB_PER_MODE * k + 3] = best->x[SB_PER_MODE * n_modes + 3];
    problem->n_modes = k;
    double goal = n_modes > 0 ? WORTHWHILE * best->squares : (double) INFINITY;
    if (!sb_modes_minimize (problem, goal, &next) || next.squares > goal)
      continue;
    *best = next;
    n_modes = k;
    if (is_exhausted (problem, noise, best)
        || (early && !problem->with_rest && fit_rest (problem, WORTHWHILE * best->squares, best)
            && is_exhausted (problem, noise, best)))
      break;
  }
  problem->n_modes = n_modes;
  if (n_modes > 0 && !problem->with_rest && sqrt (best->squares / (double) problem->n) > ROUNDING_REACHED)
    fit_unlikely_rest (problem, best);
  return n_modes > 0;
}

static double
left_variance (const SbModesProblem *problem, const SbModesSolution *solution)
{
  return solution->squares / ((double) problem->n - (double) sb_modes_n_parameters (problem));
}

/* A damped mode looks much like a rest of the rise, and a rest like a mode: whichever is fitted first leaves little for
 * the other. Where a rest came first, the modes are tried before it as well; what leaves less is kept. */
static gboolean
fit_modes (SbModesProblem *problem, const double *guesses, gsize n_guesses, double noise, SbModesSolution *best)
{
  SbModesProblem late = *problem;
  SbModesSolution other = { 0 };
  gboolean fitted = fit_in_order (problem, guesses, n_guesses, noise, TRUE, best);
  if (fitted && problem->with_rest && fit_in_order (&late, guesses, n_guesses, noise, FALSE, &other)
      && left_variance (&late, &other) < left_variance (problem, best)) {
    *problem = late;
    *best = other;
  }
  return fitted;
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

/* Turns the problem's units into those of the record: time, values; and what the record was averaged from. */
typedef struct {
  double per_s, size, interval_s;
  gsize block;
} Scale;

static SbMode
mode_of (const SbModesProblem *problem, const SbModesSolution *solution, gsize m, const Scale *scale)
{
  gsize p = sb_modes_n_parameters (problem), at = SB_PER_MODE * m;
  const double *q = solution->x + at;
  double decay = q[2], omega = q[3], radius = hypot (decay, omega);
  double step = problem->u[problem->n - 1] / (double) (problem->n - 1), per_s = scale->per_s;
  double noise2 = solution->squares / (double) (problem->n - p)
                  * sb_modes_noise_power (sb_modes_lag1 (problem, solution), omega * step);
  double v_dd = noise2 * solution->variance[(at + 2) * p + at + 2];
  double v_ww = noise2 * solution->variance[(at + 3) * p + at + 3];
  double v_dw = noise2 * solution->variance[(at + 2) * p + at + 3];
  double by_decay = omega * omega / sb_pow (radius, 3), by_omega = -decay * omega / sb_pow (radius, 3);
  double v_zeta = by_decay * by_decay * v_dd + 2 * by_decay * by_omega * v_dw + by_omega * by_omega * v_ww;
  gsl_complex gain = block_gain (decay * per_s, omega * per_s, scale->interval_s, scale->block);
  return (SbMode){
    .amplitude = scale->size * hypot (q[0], q[1]) / gsl_complex_abs (gain),
    .decay_per_s = decay * per_s,
    .frequency_hz = omega * per_s / (2 * G_PI),
    .phase_rad = remainder (sb_atan2 (-q[1], q[0]) - gsl_complex_arg (gain), 2 * G_PI),
    .damping_ratio = decay / radius,
    .frequency_sd_hz = sqrt (v_ww) * per_s / (2 * G_PI),
    .damping_ratio_sd = sqrt (fmax (0, v_zeta)),
  };
}

static void
take_solution (const SbModesProblem *problem, const SbModesSolution *solution, const Scale *scale, SbModeFit *fit)
{
  gsize n_modes = problem->n_modes, extra = SB_PER_MODE * n_modes;
  *fit = (SbModeFit){
    .n_modes = n_modes,
    .offset = scale->size * solution->x[extra],
    .drift_per_s = scale->size * solution->x[extra + 1] * scale->per_s,
    .rms = scale->size * sqrt (solution->squares / (double) problem->n),
  };
  for (gsize m = 0; m < n_modes; m++)
    fit->mode[m] = mode_of (problem, solution, m, scale);
  if (!problem->with_rest)
    return;
  fit->rest_decay_per_s = solution->x[extra + 3] * scale->per_s;
  fit->rest = scale->size * solution->x[extra + 2]
              / GSL_REAL (block_gain (fit->rest_decay_per_s, 0, scale->interval_s, scale->block));
}

/* A rest of the rise that is not certain still pulls the modes: those of both fits are weighed by how far the noise
 * speaks for it, so that neither the one nor the other is wrong without a word. Offset and drift stay those of the fit
 * without: they belong together with the rest, which they are nearly in line with, and no mean of both is a level. */
static void
weigh_rest (const SbModesProblem *problem, const SbModesSolution *solution, const Scale *scale, SbModeFit *fit)
{
  SbModesProblem with = *problem;
  SbModesSolution other = *solution;
  with.rest_is_gone = REST_MAY_BE_GONE;
  with.fastest_rest = REST_LASTS;
  SbModeFit rested;
  if (problem->with_rest || !(sqrt (solution->squares / (double) problem->n) > ROUNDING_REACHED)
      || !fit_rest (&with, solution->squares, &other))
    return;
  double gain = sb_modes_gain (problem->n, solution->squares, other.squares, sb_modes_lag1 (&with, &other));
  double weight = sb_modes_weight_of_rest (gain);
  take_solution (&with, &other, scale, &rested);
  fit->weight = weight;
  for (gsize m = 0; m < fit->n_modes; m++) {
    fit->damping_without[m] = fit->mode[m].damping_ratio;
    fit->damping_with[m] = rested.mode[m].damping_ratio;
    fit->mode[m] = sb_modes_mean (&fit->mode[m], &rested.mode[m], weight);
  }
}

/* A rest that is gone within a radian is not weighed, but where the noise does not rule it out it may still have pulled
 * the modes, which their standard errors have to hold. */
static void
widen_by_fast_rest (const SbModesProblem *problem, const SbModesSolution *solution, const Scale *scale, SbModeFit *fit)
{
  SbModesProblem with = *problem;
  SbModesSolution other = *solution;
  with.rest_is_gone = REST_MAY_BE_GONE;
  SbModeFit rested;
  if (problem->with_rest || !(sqrt (solution->squares / (double) problem->n) > ROUNDING_REACHED)
      || !fit_rest (&with, solution->squares, &other) || !(other.x[SB_PER_MODE * problem->n_modes + 3] > REST_LASTS))
    return;
  double gain = sb_modes_gain (problem->n, solution->squares, other.squares, sb_modes_lag1 (&with, &other));
  take_solution (&with, &other, scale, &rested);
  for (gsize m = 0; m < fit->n_modes; m++)
    sb_modes_widen (&fit->mode[m], &rested.mode[m], sb_modes_weight_of_rest (gain));
}

/* Strongest first: the fit may have changed the order. */
static void
sort_modes (SbModeFit *fit, double length_s)
{
  for (gsize i = 1; i < fit->n_modes; i++)
    for (gsize k = i; k > 0; k--) {
      double a[SB_PER_MODE] = { fit->mode[k - 1].amplitude, 0, fit->mode[k - 1].decay_per_s, 0 };
      double b[SB_PER_MODE] = { fit->mode[k].amplitude, 0, fit->mode[k].decay_per_s, 0 };
      if (energy (a, length_s) >= energy (b, length_s))
        break;
      SbMode swap = fit->mode[k];
      fit->mode[k] = fit->mode[k - 1];
      fit->mode[k - 1] = swap;
      swap_doubles (&fit->damping_without[k], &fit->damping_without[k - 1]);
      swap_doubles (&fit->damping_with[k], &fit->damping_with[k - 1]);
    }
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
  if (record->n <= SB_PER_MODE + 2 || !(size > 0) || !(per_s > 0))
    return FALSE;
  g_autofree double *u = g_new (double, record->n);
  g_autofree double *y = g_new (double, record->n);
  for (gsize i = 0; i < record->n; i++) {
    u[i] = record->t_s[i] * per_s;
    y[i] = record->y[i] / size;
  }
  SbModesProblem problem = { .u = u,
                             .y = y,
                             .n = record->n,
                             .fastest_rest = INFINITY,
                             .rest_is_gone = REST_IS_GONE,
                             .step = even_step (u, record->n) };
  double guesses[SB_PER_MODE * SB_MAX_MODES] = { 0 };
  gsize n_guesses = guess (&problem, guesses);
  SbModesSolution solution = { 0 };
  if (!fit_modes (&problem, guesses, n_guesses, noise / size, &solution))
    return FALSE;

  Scale scale = { per_s, size, interval_s, record->block };
  take_solution (&problem, &solution, &scale, fit);
  weigh_rest (&problem, &solution, &scale, fit);
  widen_by_fast_rest (&problem, &solution, &scale, fit);
  sort_modes (fit, record->t_s[record->n - 1]);
  return TRUE;
}
