/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ensemble.h"

#include "grid.h"

#include <math.h>

SbEnsemble *
sb_ensemble_new (SbTrial *const *trials, gsize n, SbSpan span, guint channels)
{
  if (n == 0)
    return NULL;
  double step_s = 0;
  for (gsize i = 0; i < n; i++)
    step_s = MAX (step_s, trials[i]->sample_interval_s);
  SbEnsembleBuilder *builder = sb_ensemble_builder_new (step_s, span, channels, TRUE);
  for (gsize i = 0; i < n; i++)
    sb_ensemble_builder_add (builder, trials[i]);
  return sb_ensemble_builder_finish (builder);
}

void
sb_ensemble_resample (const SbEnsemble *ensemble, const SbTrial *trial, SbChannel channel, double *values)
{
  const double *y = trial->signal[channel];
  SbGridSpan own = sb_grid_span (trial, ensemble->grid_step_s);
  SbGridWalk walk;
  sb_grid_walk_init (&walk, trial, ensemble->grid_step_s, ensemble->first);
  for (gsize from = 0; from < ensemble->n_points; from += SB_GRID_BLOCK) {
    SbGridWeights weights;
    gsize n = MIN (ensemble->n_points - from, SB_GRID_BLOCK);
    sb_grid_walk (&walk, n, &weights);
    for (gsize k = 0; k < n; k++) {
      gint64 point = ensemble->first + (gint64) (from + k);
      gboolean covered = y != NULL && point >= own.first && point < own.end;
      values[from + k] = covered ? sb_grid_value (&weights, y, k) : (double) NAN;
    }
  }
}

/* s² at `place` grid steps after the first point, linear between points. */
static double
variance_at (const double *sd, double place)
{
  gsize k = (gsize) place;
  double share = place - (double) k;
  if (share <= 0)
    return sd[k] * sd[k];
  return sd[k] * sd[k] + share * (sd[k + 1] * sd[k + 1] - sd[k] * sd[k]);
}

double
sb_ensemble_deviation (const SbEnsemble *ensemble, SbChannel channel)
{
  const SbMeanCurve *curve = ensemble->curve[channel];
  if (curve == NULL || ensemble->n_trials < 2 || ensemble->n_points == 0)
    return NAN;
  /* In grid steps after the first point: what the grid covers of onset to end. */
  double begin = MAX (0.0, (double) -ensemble->first);
  double end = MIN ((double) (ensemble->n_points - 1),
                    ensemble->active_end_s / ensemble->grid_step_s - (double) ensemble->first);
  if (end < begin)
    return NAN;

  double area = 0, length = 0;
  for (double left = begin; left < end;) {
    double right = MIN (floor (left) + 1, end);
    double mean = (variance_at (curve->sd, left) + variance_at (curve->sd, right)) / 2;
    if (!isnan (mean)) { /* fewer than two trials at either end: nothing to average there */
      area += mean * (right - left);
      length += right - left;
    }
    left = right;
  }
  return length > 0 ? sqrt (area / length) : curve->sd[(gsize) begin];
}

SbEnsemble *
sb_ensemble_ref (SbEnsemble *ensemble)
{
  g_atomic_ref_count_inc (&ensemble->ref_count);
  return ensemble;
}

static void
mean_curve_free (SbMeanCurve *curve)
{
  g_free (curve->mean);
  g_free (curve->sd);
  g_free (curve->lowest);
  g_free (curve->highest);
  g_free (curve);
}

void
sb_ensemble_unref (SbEnsemble *ensemble)
{
  if (ensemble == NULL || !g_atomic_ref_count_dec (&ensemble->ref_count))
    return;
  for (int c = 0; c < SB_N_CHANNELS; c++)
    g_clear_pointer (&ensemble->curve[c], mean_curve_free);
  g_clear_pointer (&ensemble->kept, g_ptr_array_unref);
  g_free (ensemble->count);
  g_free (ensemble);
}
