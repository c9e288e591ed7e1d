/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "residual.h"

#include "steady_math.h"

#include <gsl/gsl_fft_real.h>

#include <math.h>

#define MOST_POINTS 4096
/* Block means dampen what lies above this share of their rate, so a coarse look leaves it to a finer one. */
#define HIGHEST_OF_RATE 0.125
#define COARSER         4
/* Less than this many cycles in the record are drift, not ringing. */
#define FEWEST_CYCLES 1.5

/* Takes the mean and the drift off and tapers the end: a decaying oscillation has its energy at the start. */
static void
taper (const SbRecord *record, double *out)
{
  gsize n = record->n;
  double mean = 0, middle = ((double) n - 1) / 2, slope = 0, squares = 0;
  for (gsize i = 0; i < n; i++)
    mean += record->y[i] / (double) n;
  for (gsize i = 0; i < n; i++) {
    slope += ((double) i - middle) * record->y[i];
    squares += ((double) i - middle) * ((double) i - middle);
  }
  slope /= squares;
  /* cos² from 1 down to 0, by turning a pointer on */
  double turn_c = sb_cos (G_PI / (double) n), turn_s = sb_sin (G_PI / (double) n), c = 1, s = 0;
  for (gsize i = 0; i < n; i++) {
    out[i] = (record->y[i] - mean - slope * ((double) i - middle)) * (1 + c) / 2;
    double next = c * turn_c - s * turn_s;
    s = s * turn_c + c * turn_s;
    c = next;
  }
}

/* The highest peak of one look; `amplitude` is that of a steady oscillation that would give it. */
static double
peak_of_record (const SbRecord *record, double highest_of_rate, double *amplitude)
{
  gsize padded = 2;
  while (padded < 2 * record->n)
    padded *= 2;
  g_autofree double *x = g_new0 (double, padded);
  taper (record, x);
  gsl_fft_real_radix2_transform (x, 1, padded);
  double cycles_per_bin = (double) record->n / (double) padded;
  gsize first = (gsize) ceil (FEWEST_CYCLES / cycles_per_bin);
  gsize last = (gsize) floor (highest_of_rate * (double) padded), peak = 0;
  double best = 0;
  for (gsize k = first; k < MIN (last, padded / 2); k++) {
    double power = x[k] * x[k] + x[padded - k] * x[padded - k];
    if (power > best) {
      best = power;
      peak = k;
    }
  }
  *amplitude = 4 * sqrt (best) / (double) record->n;
  return (double) peak / ((double) padded * record->step_s);
}

double
sb_residual_peak_hz (const SbResidual *residual, gsize n_samples)
{
  double best = 0, peak_hz = 0;
  for (gsize block = 1;; block *= COARSER) {
    SbRecord record;
    sb_record_init (&record, residual, n_samples, block, MOST_POINTS);
    double amplitude = 0, hz = 0;
    if (record.n >= 8)
      hz = peak_of_record (&record, block == 1 ? 0.5 : HIGHEST_OF_RATE, &amplitude);
    sb_record_clear (&record);
    if (amplitude > best) {
      best = amplitude;
      peak_hz = hz;
    }
    if (n_samples / block <= MOST_POINTS)
      return peak_hz;
  }
}
