/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ensemble.h"

#include "grid.h"
#include "statistics.h"

#include <math.h>

#define CONFIDENCE_LEVEL 0.95

const char *
sb_band_key (SbBandKind band)
{
  static const char *const keys[SB_N_BANDS] = {
    [SB_BAND_SD] = "sd",
    [SB_BAND_CONFIDENCE] = "confidence",
    [SB_BAND_RANGE] = "range",
    [SB_BAND_QUARTILES] = "quartiles",
  };
  return keys[band];
}

char *
sb_band_words (SbBandKind band, double k)
{
  static const char *const words[SB_N_BANDS] = {
    [SB_BAND_CONFIDENCE] = "95 % confidence of the mean",
    [SB_BAND_RANGE] = "smallest to largest",
    [SB_BAND_QUARTILES] = "first to third quartile",
  };
  if (band != SB_BAND_SD)
    return g_strdup (words[band]);
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (number, sizeof number, "%.3g", k);
  return g_strdup_printf ("mean ± %s standard deviation%s", number, g_str_equal (number, "1") ? "" : "s");
}

static gsize
count_at (const SbEnsemble *ensemble, gsize k)
{
  return ensemble->count != NULL ? ensemble->count[k] : ensemble->n_trials;
}

static void
band_of_sd (const SbEnsemble *ensemble, const SbMeanCurve *curve, double k_sd, double *lower, double *upper)
{
  for (gsize k = 0; k < ensemble->n_points; k++) {
    lower[k] = curve->mean[k] - k_sd * curve->sd[k];
    upper[k] = curve->mean[k] + k_sd * curve->sd[k];
  }
}

static void
band_of_confidence (const SbEnsemble *ensemble, const SbMeanCurve *curve, double *lower, double *upper)
{
  double per_sd = NAN;
  gsize count = 0;
  for (gsize k = 0; k < ensemble->n_points; k++) {
    if (count_at (ensemble, k) != count) {
      count = count_at (ensemble, k);
      per_sd = sb_mean_half_width (1, count, CONFIDENCE_LEVEL);
    }
    lower[k] = curve->mean[k] - per_sd * curve->sd[k];
    upper[k] = curve->mean[k] + per_sd * curve->sd[k];
  }
}

static void
band_of_range (const SbEnsemble *ensemble, const SbMeanCurve *curve, double *lower, double *upper)
{
  for (gsize k = 0; k < ensemble->n_points; k++) {
    gboolean several = count_at (ensemble, k) > 1;
    lower[k] = several ? curve->lowest[k] : (double) NAN;
    upper[k] = several ? curve->highest[k] : (double) NAN;
  }
}

/* The trials' values at n points from grid point `point`, point by point; NaN where a trial has none. */
static void
values_of_block (const SbEnsemble *ensemble, SbChannel channel, gint64 point, gsize n, double *values)
{
  gsize n_trials = ensemble->kept->len;
  for (gsize i = 0; i < n_trials; i++) {
    const SbTrial *trial = g_ptr_array_index (ensemble->kept, i);
    SbGridSpan own = sb_grid_span (trial, ensemble->grid_step_s);
    SbGridWalk walk;
    SbGridWeights weights;
    sb_grid_walk_init (&walk, trial, ensemble->grid_step_s, point);
    sb_grid_walk (&walk, n, &weights);
    for (gsize k = 0; k < n; k++) {
      gboolean covered = point + (gint64) k >= own.first && point + (gint64) k < own.end;
      values[k * n_trials + i] = covered ? sb_grid_value (&weights, trial->signal[channel], k) : (double) NAN;
    }
  }
}

static void
band_of_quartiles (const SbEnsemble *ensemble, SbChannel channel, double *lower, double *upper)
{
  gsize n_trials = ensemble->kept->len;
  g_autofree double *values = g_new (double, SB_GRID_BLOCK *n_trials);
  for (gsize from = 0; from < ensemble->n_points; from += SB_GRID_BLOCK) {
    gsize n = MIN (ensemble->n_points - from, SB_GRID_BLOCK);
    values_of_block (ensemble, channel, ensemble->first + (gint64) from, n, values);
    for (gsize k = 0; k < n; k++) {
      double *at = values + k * n_trials;
      gsize present = 0;
      for (gsize i = 0; i < n_trials; i++)
        if (!isnan (at[i]))
          at[present++] = at[i];
      lower[from + k] = present > 1 ? sb_quantile (at, present, 0.25) : (double) NAN;
      upper[from + k] = present > 1 ? sb_quantile (at, present, 0.75) : (double) NAN;
    }
  }
}

gboolean
sb_ensemble_band (const SbEnsemble *ensemble, SbChannel channel, SbBandKind band, double k, double *lower,
                  double *upper)
{
  const SbMeanCurve *curve = ensemble->curve[channel];
  if (curve == NULL || ensemble->n_trials < 2 || (band == SB_BAND_QUARTILES && ensemble->kept == NULL))
    return FALSE;
  switch (band) {
  case SB_BAND_SD:
    band_of_sd (ensemble, curve, k, lower, upper);
    return TRUE;
  case SB_BAND_CONFIDENCE:
    band_of_confidence (ensemble, curve, lower, upper);
    return TRUE;
  case SB_BAND_RANGE:
    band_of_range (ensemble, curve, lower, upper);
    return TRUE;
  case SB_BAND_QUARTILES:
    band_of_quartiles (ensemble, channel, lower, upper);
    return TRUE;
  case SB_N_BANDS:
    break;
  }
  return FALSE;
}
