/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ringing_level.h"

#include "levels.h"
#include "modes.h"
#include "residual.h"
#include "steady_math.h"

#include <math.h>

#define FEWEST_SAMPLES 16
#define MOST_POINTS    400
/* An oscillation: so many cycles, clear of what the fit leaves, and about a level among its own values. */
#define FEWEST_CYCLES 1.2
#define CLEAR_OF_REST 5
#define PER_CYCLE     12

static double
mean_of (const double *y, gsize n)
{
  double sum = 0;
  for (gsize i = 0; i < n; i++)
    sum += y[i] - y[0];
  return y[0] + sum / (double) n;
}

/* Amplitude of what the last quarter does about its own mean, the noise taken off in quadrature. */
static double
left_at_end (const double *y, gsize n, double noise)
{
  gsize quarter = n / 4;
  const double *tail = y + (n - quarter);
  double mean = mean_of (tail, quarter), squares = 0;
  for (gsize i = 0; i < quarter; i++)
    squares += (tail[i] - mean) * (tail[i] - mean);
  double above = squares / (double) quarter - noise * noise * (1 + 4 * sqrt (2 / (double) quarter));
  return sqrt (2 * fmax (0, above));
}

static gboolean
is_oscillation (const SbModeFit *fit, double length_s, double spread_nm)
{
  const SbMode *mode = &fit->mode[0];
  double at_end = mode->amplitude * sb_exp (-mode->decay_per_s * length_s);
  return mode->frequency_hz * length_s >= FEWEST_CYCLES
         && fmin (mode->amplitude, 2 * spread_nm) >= CLEAR_OF_REST * fit->rms && fabs (fit->offset) <= spread_nm
         && fabs (fit->drift_per_s) * length_s <= fmax (at_end, 0.1 * mode->amplitude);
}

/* Whether the oscillation is what is left in the last quarter, and not a drift behind one that has died away. */
static gboolean
reaches_end (const SbModeFit *fit, double length_s, double left_nm)
{
  double amplitude = 0;
  for (gsize m = 0; m < fit->n_modes; m++)
    amplitude += fit->mode[m].amplitude * sb_exp (-0.75 * fit->mode[m].decay_per_s * length_s);
  return amplitude >= left_nm / 2;
}

gboolean
sb_ringing_level (const SbReading *reading, gsize first, double noise_nm, double bin_nm, SbRingingLevel *level)
{
  const SbTrial *trial = reading->trial;
  const double *y = trial->signal[SB_CHANNEL_TORQUE];
  double noise = isfinite (noise_nm) ? noise_nm : 0;
  gsize n = reading->last + 1 - MIN (first, reading->last);
  double left_nm = n < FEWEST_SAMPLES ? 0 : left_at_end (y + first, n, noise);
  if (left_nm <= fmax (bin_nm, noise / 2))
    return FALSE;
  SbResidual residual = {
    .t = trial->time_s,
    .y = y,
    .first = first,
    .n = n,
    .start_s = trial->time_s[first],
    .interval_s = trial->sample_interval_s,
    .baseline = { mean_of (y + first, n) },
  };
  double hz = sb_residual_peak_hz (&residual, n), lowest, highest;
  if (!(hz > 0))
    hz = 1.5 / (trial->time_s[reading->last] - residual.start_s);
  double longest = fmax (1, floor (1 / (hz * residual.interval_s * PER_CYCLE)));
  gsize block = CLAMP ((n + MOST_POINTS - 1) / MOST_POINTS, 1, (gsize) longest);
  SbRecord record;
  SbModeFit fit;
  sb_record_init (&record, &residual, n, block, MOST_POINTS);
  gboolean fitted = sb_modes_fit (&record, residual.interval_s, hz, noise / sqrt ((double) block), &fit);
  double length_s = record.n > 0 ? record.t_s[record.n - 1] : 0;
  sb_record_clear (&record);
  sb_value_range (y + first, n, &lowest, &highest);
  if (!fitted || !is_oscillation (&fit, length_s, (highest - lowest) / 2) || !reaches_end (&fit, length_s, left_nm))
    return FALSE;
  *level = (SbRingingLevel){
    .level_nm = residual.baseline[0] + fit.offset + fit.drift_per_s * length_s / 2,
    .left_nm = fit.mode[0].amplitude * sb_exp (-fit.mode[0].decay_per_s * length_s),
  };
  return TRUE;
}
