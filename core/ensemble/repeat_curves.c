/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "repeat_curves.h"

#include "grid.h"

#include <math.h>

struct SbRepeatCurves {
  gsize n;
  SbChannel channel;
  gboolean lacks_channel;
  double step_s; /* the first trial's sample interval */
  double end_s;  /* earliest end of the active windows, after the onset */
  SbGridSpan span[SB_FEW_REPEATS];
  double *y[SB_FEW_REPEATS]; /* at the grid points of the span */
};

SbRepeatCurves *
sb_repeat_curves_new (void)
{
  SbRepeatCurves *curves = g_new0 (SbRepeatCurves, 1);
  curves->end_s = INFINITY;
  return curves;
}

static void
drop_curves (SbRepeatCurves *curves)
{
  for (gsize i = 0; i < SB_FEW_REPEATS; i++)
    g_clear_pointer (&curves->y[i], g_free);
}

void
sb_repeat_curves_free (SbRepeatCurves *curves)
{
  if (curves == NULL)
    return;
  drop_curves (curves);
  g_free (curves);
}

static double *
resampled (const SbTrial *trial, SbChannel channel, double step_s, SbGridSpan span)
{
  gsize n = (gsize) (span.end - span.first);
  double *values = g_new (double, n + 1);
  SbGridWalk walk;
  sb_grid_walk_init (&walk, trial, step_s, span.first);
  for (gsize from = 0; from < n; from += SB_GRID_BLOCK) {
    SbGridWeights weights;
    gsize block = MIN (n - from, SB_GRID_BLOCK);
    sb_grid_walk (&walk, block, &weights);
    for (gsize k = 0; k < block; k++)
      values[from + k] = sb_grid_value (&weights, trial->signal[channel], k);
  }
  return values;
}

void
sb_repeat_curves_add (SbRepeatCurves *curves, const SbTrial *trial)
{
  gsize i = curves->n++;
  if (i == 0) {
    curves->step_s = trial->sample_interval_s;
    curves->channel = trial->signal[SB_CHANNEL_TORQUE] != NULL ? SB_CHANNEL_TORQUE : SB_CHANNEL_VELOCITY;
  }
  curves->lacks_channel = curves->lacks_channel || trial->signal[curves->channel] == NULL;
  if (i >= SB_FEW_REPEATS || curves->lacks_channel) {
    drop_curves (curves);
    return;
  }
  curves->end_s = fmin (curves->end_s, trial->active_end_s - trial->onset_s);
  SbGridSpan own = sb_grid_span (trial, curves->step_s);
  own.first = MAX (own.first, 0);
  own.end = MAX (own.end, own.first);
  curves->span[i] = own;
  curves->y[i] = resampled (trial, curves->channel, curves->step_s, own);
}

/* Grid points from the onset to the end that every curve has. */
static SbGridSpan
common_span (const SbRepeatCurves *curves)
{
  SbGridSpan common = curves->span[0];
  for (gsize i = 1; i < curves->n; i++)
    common = sb_grid_common (common, curves->span[i]);
  while (common.end > common.first && (double) (common.end - 1) * curves->step_s > curves->end_s)
    common.end--;
  return common;
}

gboolean
sb_repeat_curves_distances (const SbRepeatCurves *curves, double distance[SB_FEW_REPEATS], double *size,
                            SbChannel *channel)
{
  if (curves->n == 0 || curves->n > SB_FEW_REPEATS || curves->lacks_channel)
    return FALSE;
  SbGridSpan common = common_span (curves);
  if (common.end <= common.first)
    return FALSE;
  double squares[SB_FEW_REPEATS] = { 0 }, of_mean = 0, n_points = (double) (common.end - common.first);
  for (gint64 k = common.first; k < common.end; k++) {
    double y[SB_FEW_REPEATS], mean = 0;
    for (gsize i = 0; i < curves->n; i++) {
      y[i] = curves->y[i][k - curves->span[i].first];
      mean += y[i] / (double) curves->n;
    }
    for (gsize i = 0; i < curves->n; i++)
      squares[i] += (y[i] - mean) * (y[i] - mean);
    of_mean += mean * mean;
  }
  for (gsize i = 0; i < curves->n; i++)
    distance[i] = sqrt (squares[i] / n_points);
  *size = sqrt (of_mean / n_points);
  *channel = curves->channel;
  return TRUE;
}
