/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arc_length.h"

#include "local_fit.h"
#include "measure_result.h"
#include "slope.h"
#include "transition.h"

#include <math.h>

#define DEFAULT_CUTOFF_HZ      200
#define DEFAULT_CUTOFF_OF_RATE 0.4
/* A rate this many times the cut-off is enough; a faster log is read at every so many samples. */
#define RATES_PER_CUTOFF 20
#define MOST_POINTS      4096
/* A stretch that is longer than its samples would take by this is for the most part not there. */
#define LONGEST_BY_SAMPLES 10

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

typedef struct {
  gsize half, skip; /* of the slope window; samples from one point to the next */
  gsize n;
  double step_s, cutoff_hz;
} Grid;

/* The noise of the samples through slopes and spectrum, made linear: sd ‖∂SAL/∂T‖. NaN where there is no arc. */
static double
propagate_noise (const Grid *grid, const double *rate, double sample_interval_s, double noise)
{
  g_autofree double *by_rate = g_new (double, grid->n);
  gsize half = grid->half, n_samples = (grid->n - 1) * grid->skip + 2 * half + 1;
  g_autofree double *by_sample = g_new0 (double, n_samples);
  if (!sb_spectral_arc_gradient (rate, grid->n, 1 / grid->step_s, grid->cutoff_hz, by_rate))
    return NAN;
  double gain = sb_local_slope_noise_gain (half), weight = gain * gain / sample_interval_s, squares = 0;
  for (gsize k = 0; k < grid->n; k++)
    for (gsize j = 0; j <= 2 * half; j++)
      by_sample[k * grid->skip + j] += by_rate[k] * weight * ((double) j - (double) half);
  for (gsize i = 0; i < n_samples; i++)
    squares += by_sample[i] * by_sample[i];
  return noise * sqrt (squares);
}

/* The stretch begins at a sample and ends at a point of the grid, by an even chance over an interval (GUM 4.3.7), and
 * either is moved by the noise of the crossing that it is taken from: with what one point fewer there does to the arc.
 */
static double
propagate_ends (const SbReading *reading, const Grid *grid, const double *rate, double smoothness)
{
  double rate_hz = 1 / grid->step_s, by[2];
  if (grid->n < 4)
    return NAN;
  by[0] = sb_spectral_arc_length (rate + 1, grid->n - 1, rate_hz, grid->cutoff_hz) - smoothness;
  by[1] = sb_spectral_arc_length (rate, grid->n - 1, rate_hz, grid->cutoff_hz) - smoothness;
  double start_s = hypot (reading->trial->sample_interval_s / sqrt (12), reading->crossing[0].uncertainty_s);
  double end_s = hypot (grid->step_s / sqrt (12), reading->crossing[2].uncertainty_s);
  return hypot (by[0] * start_s, by[1] * end_s) / grid->step_s;
}

void
sb_measure_smoothness (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  gsize half = reading->measures->transition.slope_half, first, last;
  const char *reason = reading->no_step != NULL ? reading->no_step : reading->no_top;
  if (reason != NULL) {
    sb_reading_set_absent (reading, SB_MEASURE_TORQUE_SMOOTHNESS, "%s", reason);
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
  if (length_s * rate_hz > LONGEST_BY_SAMPLES * (double) (last - first + 1)) {
    sb_reading_set_absent (reading, SB_MEASURE_TORQUE_SMOOTHNESS,
                           "nothing was logged for the most part of the transition, or the clock was set within it: "
                           "%" G_GSIZE_FORMAT " samples for %.6g s",
                           last - first + 1, length_s);
    return;
  }
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
  Grid grid = { half, (gsize) skip, n, step_s, cutoff_hz };
  if (transition->noise_nm > 0)
    measure->uncertainty = hypot (propagate_noise (&grid, rate, trial->sample_interval_s, transition->noise_nm),
                                  propagate_ends (reading, &grid, rate, smoothness));
  double step_nm = transition->top_nm - transition->base_nm;
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, transition->t10_s, transition->base_nm + 0.1 * step_nm, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, transition->t90_s, transition->base_nm + 0.9 * step_nm, 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_resolution (reading, measure);
  sb_reading_doubt_held (reading, measure, SB_CHANNEL_TORQUE, "and the steps between them are no motion of it");
  for (gsize k = 0; k < 3; k += 2)
    sb_reading_doubt_again (reading, measure, k, "and its window hangs on that");
  if (cutoff_hz > rate_hz / 2)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "cut-off out of reach: the log holds nothing above %.4g Hz, half its sample rate",
                          rate_hz / 2);
}
