/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ringing_look.h"

#include "steady_math.h"

#include <float.h>
#include <math.h>

/* The record that is fitted: this many points, at least so many to a cycle. */
#define FIT_POINTS             400
#define FIT_POINTS_PER_CYCLE   12
#define CREST_POINTS_PER_CYCLE 12
/* Ringing: two crests above twice the floor, a cycle and a half, and an amplitude clear of what the fit leaves. */
#define CREST_FLOORS  2
#define FEWEST_CRESTS 2
#define FEWEST_CYCLES 1.5
#define CLEAR_OF_REST 3
/* A peak of the spectrum so many times as high is another one. */
#define ANOTHER_PEAK 1.5
/* Noise of n points has an oscillation with an energy of about 2 ln n of their variance; this is out of its reach. */
#define ENERGY_OF_NOISE 30

void
sb_look_open (const SbReading *reading, SbRingingLook *look, gsize first, double start_s)
{
  const SbTrial *trial = reading->trial;
  look->residual = (SbResidual){
    .t = trial->time_s,
    .y = trial->signal[look->channel],
    .first = first,
    .n = reading->last + 1 - first,
    .start_s = start_s,
    .interval_s = trial->sample_interval_s,
  };
}

static gsize
block_for (const SbRingingLook *look, double points_per_cycle, gsize at_least)
{
  double most = floor (1 / (look->peak_hz * look->residual.interval_s * points_per_cycle));
  return CLAMP (at_least, 1, (gsize) fmax (1, most));
}

static gboolean
fit (SbRingingLook *look)
{
  gsize block = block_for (look, FIT_POINTS_PER_CYCLE, (look->n_loud + FIT_POINTS - 1) / FIT_POINTS);
  SbRecord record;
  sb_record_init (&record, &look->residual, look->n_loud, block, FIT_POINTS);
  double spread = sqrt ((double) block);
  gboolean fitted = sb_modes_fit (&record, look->residual.interval_s, look->peak_hz, look->noise / spread, &look->fit);
  if (fitted) {
    look->n_fit = record.n;
    look->fit_end_s = record.t_s[record.n - 1];
    /* A plateau noisier than the base: both its own roughness and what the fit leaves have to say so. */
    look->noise = fmax (look->noise, fmin (sb_residual_tail_noise (&look->residual), look->fit.rms * spread));
  }
  sb_record_clear (&record);
  return fitted;
}

/* Energy of the strongest mode over the record, in units of the variance of what the fit leaves. */
static double
energy_over_rest (const SbRingingLook *look)
{
  const SbMode *mode = &look->fit.mode[0];
  double decays = 2 * mode->decay_per_s * look->fit_end_s;
  double mean = fabs (decays) > 1e-6 ? -sb_expm1 (-decays) / decays : 1;
  double rest = fmax (look->fit.rms * look->fit.rms, DBL_MIN);
  return (double) look->n_fit * mean * mode->amplitude * mode->amplitude / (2 * rest);
}

/* Samples until the fitted modes together have sunk below `limit`: what crosses it later is noise. */
static gsize
samples_above (const SbRingingLook *look, double limit)
{
  double step_s = 1 / (4 * look->fit.mode[0].frequency_hz);
  double end_s = (double) look->n_loud * look->residual.interval_s;
  for (gsize k = 0; (double) k * step_s < end_s; k++) {
    double envelope = 0, t = (double) k * step_s;
    for (gsize m = 0; m < look->fit.n_modes; m++)
      envelope += look->fit.mode[m].amplitude * sb_exp (-look->fit.mode[m].decay_per_s * t);
    if (envelope < limit)
      return MIN (look->n_loud, (gsize) ((t + step_s) / look->residual.interval_s));
  }
  return look->n_loud;
}

static gboolean
is_ringing_near (SbRingingLook *look, double hz)
{
  look->peak_hz = hz;
  if (!(hz > 0) || !fit (look))
    return FALSE;
  const SbMode *mode = &look->fit.mode[0];
  SbCrestSearch search = {
    .n_samples = samples_above (look, CREST_FLOORS * look->noise),
    .block = block_for (look, CREST_POINTS_PER_CYCLE, G_MAXSIZE),
    .limit = CREST_FLOORS * look->noise,
    .period_s = 1 / mode->frequency_hz,
    .offset = look->fit.offset,
    .drift_per_s = look->fit.drift_per_s,
    .drift_end_s = look->fit_end_s,
    .rest = look->fit.rest,
    .rest_decay_per_s = look->fit.rest_decay_per_s,
  };
  look->crests = sb_residual_crests (&look->residual, &search);
  return look->crests.n >= FEWEST_CRESTS && mode->frequency_hz * look->fit_end_s >= FEWEST_CYCLES
         && mode->amplitude >= CREST_FLOORS * look->noise && mode->amplitude >= CLEAR_OF_REST * look->fit.rms
         && energy_over_rest (look) >= ENERGY_OF_NOISE;
}

/* A rest of the rise larger than the ringing has the highest peak, and the fit begins too low: where that finds nothing
 * it begins once more at the highest about a quadratic trend. */
gboolean
sb_look_is_ringing (SbRingingLook *look)
{
  if (look->n_loud < SB_LOOK_FEWEST_SAMPLES)
    return FALSE;
  const SbRingingLook as_it_was = *look;
  double hz = sb_residual_peak_hz (&look->residual, look->n_loud);
  if (is_ringing_near (look, hz))
    return TRUE;
  SbResidual flat = look->residual;
  flat.n = look->n_loud;
  sb_residual_fit_trend (&flat);
  double other_hz = sb_residual_peak_hz (&flat, look->n_loud);
  if (!(other_hz > ANOTHER_PEAK * hz))
    return FALSE;
  SbRingingLook other = as_it_was;
  if (!is_ringing_near (&other, other_hz))
    return FALSE;
  *look = other;
  return TRUE;
}
