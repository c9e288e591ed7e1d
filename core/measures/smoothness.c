/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "smoothness.h"

#include "local_fit.h"
#include "measure_result.h"
#include "slope.h"
#include "transition.h"

#include <gsl/gsl_fft_real.h>

#include <math.h>
#include <string.h>

/* Parts of the spectrum below this share of its largest magnitude, at either end, are not walked along. */
#define THRESHOLD 0.05
/* Padding to 2^4 times the length, so that the arc does not depend on where the bins fall. */
#define PADDING_POWER          4
#define DEFAULT_CUTOFF_HZ      200
#define DEFAULT_CUTOFF_OF_RATE 0.4
/* A rate this many times the cut-off is enough; a faster log is read at every so many samples. */
#define RATES_PER_CUTOFF 20
#define MOST_POINTS      4096

static void
magnitudes (const double *halfcomplex, gsize n, double *magnitude)
{
  magnitude[0] = fabs (halfcomplex[0]);
  for (gsize k = 1; k < n / 2; k++)
    magnitude[k] = sqrt (halfcomplex[k] * halfcomplex[k] + halfcomplex[n - k] * halfcomplex[n - k]);
  magnitude[n / 2] = fabs (halfcomplex[n / 2]);
}

double
sb_spectral_arc_length (const double *v, gsize n, double rate_hz, double cutoff_hz)
{
  g_return_val_if_fail (n >= 2 && rate_hz > 0 && cutoff_hz > 0, NAN);
  gsize padded = (gsize) 1 << PADDING_POWER;
  for (gsize whole = 1; whole < n; whole *= 2)
    padded *= 2;
  g_autofree double *spectrum = g_new0 (double, padded);
  g_autofree double *m = g_new (double, padded / 2 + 1);
  memcpy (spectrum, v, n * sizeof *v);
  gsl_fft_real_radix2_transform (spectrum, 1, padded);
  magnitudes (spectrum, padded, m);

  double largest = 0;
  for (gsize k = 0; k <= padded / 2; k++)
    largest = fmax (largest, m[k]);
  if (!(largest > 0))
    return NAN;
  gsize first = 0, highest = padded / 2;
  gsize last = (gsize) fmin (floor (cutoff_hz * (double) padded / rate_hz * (1 + 1e-12)), (double) highest);
  while (first < last && m[first] < THRESHOLD * largest)
    first++;
  while (last > first && m[last] < THRESHOLD * largest)
    last--;
  double arc = 0, step = last > first ? 1 / (double) (last - first) : 0;
  for (gsize k = first; k < last; k++)
    arc += hypot (step, (m[k + 1] - m[k]) / largest);
  return -arc;
}

/* The torque's rate on an even grid of `n` points `step_s` apart that begins at sample `first`. */
static double *
torque_rate (const SbReading *reading, gsize half, gsize first, double step_s, gsize n, double even_s)
{
  const double *t = reading->trial->time_s, *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  gsize n_samples = reading->trial->n_samples;
  double *rate = g_new (double, n);
  gsize i = first;
  for (gsize k = 0; k < n; k++) {
    double at = t[first] + (double) k * step_s;
    while (i + 2 + half < n_samples && t[i + 1] <= at)
      i++;
    double left = sb_local_slope (t, y, i, half, even_s);
    double share = (at - t[i]) / (t[i + 1] - t[i]);
    if (share <= 1e-6 || i + 1 + half >= n_samples)
      rate[k] = left;
    else
      rate[k] = left + share * (sb_local_slope (t, y, i + 1, half, even_s) - left);
  }
  return rate;
}

void
sb_measure_smoothness (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  gsize half = reading->measures->transition.slope_half, first, last;
  if (reading->no_step != NULL) {
    sb_reading_set_absent (reading, SB_MEASURE_TORQUE_SMOOTHNESS, "%s", reading->no_step);
    return;
  }
  if (!sb_slope_range (reading, half, &first, &last) || last <= first) {
    sb_reading_set_absent (reading, SB_MEASURE_TORQUE_SMOOTHNESS,
                           "the slope window of %" G_GSIZE_FORMAT " samples is longer than the log", 2 * half + 1);
    return;
  }
  double rate_hz = 1 / trial->sample_interval_s;
  double cutoff_hz = reading->choices.smoothness_cutoff_hz > 0
                         ? reading->choices.smoothness_cutoff_hz
                         : fmin (DEFAULT_CUTOFF_HZ, DEFAULT_CUTOFF_OF_RATE * rate_hz);
  double length_s = trial->time_s[last] - trial->time_s[first];
  double skip = fmax (1, floor (rate_hz / (RATES_PER_CUTOFF * cutoff_hz)));
  skip = fmax (skip, ceil (length_s * rate_hz / MOST_POINTS));
  double step_s = skip * trial->sample_interval_s;
  gsize n = (gsize) floor (length_s / step_s + 1e-6) + 1;
  double even_s = sb_reading_even_interval (reading, first - half, last + half);
  if (n < 2) {
    sb_reading_set_absent (reading, SB_MEASURE_TORQUE_SMOOTHNESS, "the transition is too short for a spectrum");
    return;
  }
  g_autofree double *rate = torque_rate (reading, half, first, step_s, n, even_s);
  double smoothness = sb_spectral_arc_length (rate, n, 1 / step_s, cutoff_hz);
  reading->measures->smoothness_cutoff_hz = cutoff_hz;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_TORQUE_SMOOTHNESS, smoothness,
                                       sb_reading_time (reading, first), sb_reading_time (reading, last));
  const SbTransition *transition = &reading->measures->transition;
  double step_nm = transition->top_nm - transition->base_nm;
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, transition->t10_s, transition->base_nm + 0.1 * step_nm, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, transition->t90_s, transition->base_nm + 0.9 * step_nm, 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_resolution (reading, measure);
  if (cutoff_hz > rate_hz / 2)
    sb_measure_add_doubt (measure, "cut-off out of reach: the log holds nothing above %.4g Hz, half its sample rate",
                          rate_hz / 2);
}
