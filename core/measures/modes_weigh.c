/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "modes_weigh.h"

#include "statistics.h"
#include "steady_math.h"

#include <math.h>

/* The autocorrelation of n white values scatters by 1 / sqrt (n). */
#define BEYOND_CHANCE 2
/* Nearer to 1 it is a drift. */
#define MOST_LAG1 0.98

double
sb_modes_lag1 (const SbModesProblem *problem, const SbModesSolution *solution)
{
  g_autofree double *left = g_new (double, problem->n);
  sb_modes_residuals (problem, solution->x, left);
  double lag1 = sb_lag1_autocorrelation (left, problem->n);
  return lag1 > BEYOND_CHANCE / sqrt ((double) problem->n) ? fmin (lag1, MOST_LAG1) : 0;
}

double
sb_modes_noise_power (double lag1, double omega)
{
  return (1 - lag1 * lag1) / (1 - 2 * lag1 * sb_cos (omega) + lag1 * lag1);
}

double
sb_modes_gain (gsize n, double squares_without, double squares_with, double lag1)
{
  return (double) n * sb_log (squares_without / squares_with) / sb_modes_noise_power (lag1, 0);
}

double
sb_modes_weight_of_rest (double gain)
{
  return 1 / (1 + sb_exp (2 - gain / 2));
}

static double
mean_sd (double a, double a_sd, double b, double b_sd, double weight)
{
  double mean = (1 - weight) * a + weight * b;
  return (1 - weight) * hypot (a_sd, a - mean) + weight * hypot (b_sd, b - mean);
}

static double
widened (double sd, double other_sd, double apart, double weight)
{
  double by_noise = fmax (0, other_sd * other_sd - sd * sd), pull = fmax (0, apart * apart - by_noise);
  return sd + weight * (hypot (sd, sqrt (pull)) - sd);
}

void
sb_modes_widen (SbMode *mode, const SbMode *other, double weight)
{
  mode->frequency_sd_hz
      = widened (mode->frequency_sd_hz, other->frequency_sd_hz, other->frequency_hz - mode->frequency_hz, weight);
  mode->damping_ratio_sd
      = widened (mode->damping_ratio_sd, other->damping_ratio_sd, other->damping_ratio - mode->damping_ratio, weight);
}

static double
between (double a, double b, double weight)
{
  return a + weight * (b - a);
}

SbMode
sb_modes_mean (const SbMode *a, const SbMode *b, double weight)
{
  return (SbMode){
    .amplitude = between (a->amplitude, b->amplitude, weight),
    .decay_per_s = between (a->decay_per_s, b->decay_per_s, weight),
    .frequency_hz = between (a->frequency_hz, b->frequency_hz, weight),
    .phase_rad = a->phase_rad + weight * remainder (b->phase_rad - a->phase_rad, 2 * G_PI),
    .damping_ratio = between (a->damping_ratio, b->damping_ratio, weight),
    .frequency_sd_hz = mean_sd (a->frequency_hz, a->frequency_sd_hz, b->frequency_hz, b->frequency_sd_hz, weight),
    .damping_ratio_sd = mean_sd (a->damping_ratio, a->damping_ratio_sd, b->damping_ratio, b->damping_ratio_sd, weight),
  };
}
