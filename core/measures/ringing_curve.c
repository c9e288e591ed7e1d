/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ringing_curve.h"

#include "residual.h"
#include "steady_math.h"

#include <gsl/gsl_fft_real.h>

#include <math.h>

#define FEWEST_SAMPLES 16
#define MOST_POINTS    4096
/* Zeros behind the record put this many bins to a cycle of it, so that a peak is seen where it is. */
#define PADDING 4

/* FALSE when the window holds too little. */
static gboolean
set_window (SbResidual *residual, const SbTrial *trial, const SbRinging *ringing)
{
  const double slack = 1e-9;
  double from_s = trial->onset_s + ringing->window_s[0], to_s = trial->onset_s + ringing->window_s[1];
  gsize first = 0, end = trial->n_samples;
  while (first < end && trial->time_s[first] < from_s - slack)
    first++;
  while (end > first && trial->time_s[end - 1] > to_s + slack)
    end--;
  *residual = (SbResidual){
    .t = trial->time_s,
    .y = trial->signal[ringing->channel],
    .first = first,
    .n = end - first,
    .start_s = from_s,
    .interval_s = trial->sample_interval_s,
    .baseline = { ringing->level_nm, 0, 0 },
  };
  if (residual->y == NULL || residual->n < FEWEST_SAMPLES)
    return FALSE;
  if (ringing->channel == SB_CHANNEL_VELOCITY)
    sb_residual_fit_trend (residual);
  return TRUE;
}

static double
modes_at (const SbRinging *ringing, double u)
{
  double sum = ringing->rest_nm * sb_exp (-ringing->rest_decay_per_s * u);
  for (gsize m = 0; m < ringing->n_modes; m++) {
    const SbMode *mode = &ringing->mode[m];
    sum += mode->amplitude * sb_exp (-mode->decay_per_s * u)
           * sb_cos (2 * G_PI * mode->frequency_hz * u + mode->phase_rad);
  }
  return sum;
}

/* The modes were fitted together with an offset and a drift, which are no part of them: a least-squares line. */
static double *
fit_of (const SbRingingCurve *curve, const SbRinging *ringing)
{
  if (ringing->n_modes == 0)
    return NULL;
  double *fit = g_new (double, curve->n), middle = 0, mean = 0, squares = 0, slope = 0;
  for (gsize i = 0; i < curve->n; i++) {
    fit[i] = modes_at (ringing, curve->t_s[i] - ringing->window_s[0]);
    middle += curve->t_s[i] / (double) curve->n;
    mean += (curve->rest[i] - fit[i]) / (double) curve->n;
  }
  for (gsize i = 0; i < curve->n; i++) {
    double u = curve->t_s[i] - middle;
    squares += u * u;
    slope += u * (curve->rest[i] - fit[i] - mean);
  }
  slope = squares > 0 ? slope / squares : 0;
  for (gsize i = 0; i < curve->n; i++)
    fit[i] += mean + slope * (curve->t_s[i] - middle);
  return fit;
}

/* Tapered from the start to the end, because a decaying oscillation has its energy at the start. The mean of the taper
 * is a half. */
static void
set_spectrum (SbRingingCurve *curve, const SbResidual *residual)
{
  SbRecord record;
  sb_record_init (&record, residual, residual->n, (residual->n + MOST_POINTS - 1) / MOST_POINTS, MOST_POINTS);
  gsize padded = 2;
  while (padded < PADDING * record.n)
    padded *= 2;
  g_autofree double *x = g_new0 (double, padded);
  double mean = 0;
  for (gsize i = 0; i < record.n; i++)
    mean += record.y[i] / (double) record.n;
  for (gsize i = 0; i < record.n; i++)
    x[i] = (record.y[i] - mean) * (1 + sb_cos (G_PI * (double) i / (double) record.n)) / 2;
  gsl_fft_real_radix2_transform (x, 1, padded);
  curve->n_bins = padded / 2 - 1;
  curve->hz = g_new (double, curve->n_bins);
  curve->amplitude = g_new (double, curve->n_bins);
  for (gsize k = 1; k < padded / 2; k++) {
    curve->hz[k - 1] = (double) k / ((double) padded * record.step_s);
    curve->amplitude[k - 1] = 4 * hypot (x[k], x[padded - k]) / (double) record.n;
  }
  sb_record_clear (&record);
}

SbRingingCurve *
sb_ringing_curve_new (const SbTrial *trial, const SbRinging *ringing)
{
  SbResidual residual;
  if (ringing->ringing_class == SB_RINGING_UNKNOWN || !isfinite (ringing->level_nm)
      || !set_window (&residual, trial, ringing))
    return NULL;
  SbRingingCurve *curve = g_new0 (SbRingingCurve, 1);
  curve->n = residual.n;
  curve->t_s = g_new (double, curve->n);
  curve->rest = g_new (double, curve->n);
  for (gsize i = 0; i < curve->n; i++) {
    curve->t_s[i] = residual.t[residual.first + i] - trial->onset_s;
    curve->rest[i] = sb_residual_at (&residual, i);
  }
  curve->fit = fit_of (curve, ringing);
  set_spectrum (curve, &residual);
  return curve;
}

void
sb_ringing_curve_free (SbRingingCurve *curve)
{
  if (curve == NULL)
    return;
  g_free (curve->t_s);
  g_free (curve->rest);
  g_free (curve->fit);
  g_free (curve->hz);
  g_free (curve->amplitude);
  g_free (curve);
}
