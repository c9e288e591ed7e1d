/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "noise.h"

#include "measure_result.h"
#include "statistics.h"

#include <math.h>

#define FEWEST_SAMPLES 20
#define BASE_NOISES    3
/* The autocorrelation of n white values scatters by 1 / sqrt (n): this many of them are one log in some 30,000. */
#define BEYOND_CHANCE 4
/* What it adds to an uncertainty is worth a word from a quarter on. */
#define SMALLEST_FACTOR 1.25

double
sb_noise_sd (const double *y, gsize n)
{
  double mean = 0, squares = 0;
  if (n < 2)
    return NAN;
  for (gsize i = 0; i < n; i++)
    mean += y[i] / (double) n;
  for (gsize i = 0; i < n; i++)
    squares += (y[i] - mean) * (y[i] - mean);
  return sqrt (squares / (double) (n - 1));
}

double
sb_noise_lag1 (const double *y, gsize n, double level, double sd)
{
  while (n > 0 && fabs (y[n - 1] - level) > BASE_NOISES * sd)
    n--;
  return n >= FEWEST_SAMPLES ? sb_lag1_autocorrelation (y, n) : (double) NAN;
}

void
sb_measure_doubt_noise (SbMeasure *measure, double lag1, gsize n)
{
  double factor = sqrt ((1 + lag1) / (1 - lag1));
  if (!(lag1 > BEYOND_CHANCE / sqrt ((double) n)) || !(factor >= SMALLEST_FACTOR) || !isfinite (factor)
      || !isfinite (measure->uncertainty))
    return;
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                        "noise not white: neighbouring samples before the onset are alike (lag-1 autocorrelation "
                        "%.2f), so the standard uncertainty may be too small by a factor of up to %.2g",
                        lag1, factor);
}
