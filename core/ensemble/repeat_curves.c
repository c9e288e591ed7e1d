/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "repeat_curves.h"

#include "grid.h"

#include <math.h>

#define RISEN 0.9
/* A part of fewer grid points is none. */
#define FEWEST_POINTS 5

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

static double
mean_at (const SbRepeatCurves *curves, gint64 k)
{
  double mean = 0;
  for (gsize i = 0; i < curves->n; i++)
    mean += curves->y[i][k - curves->span[i].first] / (double) curves->n;
  return mean;
}

static gint64
end_of_rise (const SbRepeatCurves *curves, SbGridSpan common)
{
  double most = 0;
  for (gint64 k = common.first; k < common.end; k++)
    most = fmax (most, fabs (mean_at (curves, k)));
  gint64 at = common.first;
  while (at < common.end && fabs (mean_at (curves, at)) < RISEN * most)
    at++;
  return MIN (common.end, at + (at - common.first));
}

static SbRepeatDistances
distances_over (const SbRepeatCurves *curves, SbGridSpan part)
{
  SbRepeatDistances distances = { .channel = curves->channel,
                                  .from_s = (double) part.first * curves->step_s,
                                  .to_s = (double) (part.end - 1) * curves->step_s };
  double n_points = (double) (part.end - part.first), of_mean = 0;
  for (gint64 k = part.first; k < part.end; k++) {
    double mean = mean_at (curves, k);
    for (gsize i = 0; i < curves->n; i++) {
      double off = curves->y[i][k - curves->span[i].first] - mean;
      distances.distance[i] += off * off / n_points;
    }
    of_mean += mean * mean / n_points;
  }
  for (gsize i = 0; i < curves->n; i++)
    distances.distance[i] = sqrt (distances.distance[i]);
  distances.size = sqrt (of_mean);
  return distances;
}

/* The farthest over the next; 0 when none is off. */
static double
farther_than_next (const SbRepeatDistances *distances, gsize n)
{
  double most = 0, next = 0;
  for (gsize i = 0; i < n; i++) {
    next = fmax (next, fmin (most, distances->distance[i]));
    most = fmax (most, distances->distance[i]);
  }
  return next > 0 ? most / next : most > 0 ? (double) INFINITY : 0;
}

gboolean
sb_repeat_curves_distances (const SbRepeatCurves *curves, SbRepeatDistances *distances)
{
  if (curves->n == 0 || curves->n > SB_FEW_REPEATS || curves->lacks_channel)
    return FALSE;
  SbGridSpan common = common_span (curves);
  if (common.end <= common.first)
    return FALSE;
  SbGridSpan rise = common, rest = common;
  rise.end = rest.first = end_of_rise (curves, common);
  gboolean one = rise.end - rise.first < FEWEST_POINTS || rest.end - rest.first < FEWEST_POINTS;
  *distances = distances_over (curves, one ? common : rise);
  if (one)
    return TRUE;
  SbRepeatDistances after = distances_over (curves, rest);
  if (farther_than_next (&after, curves->n) > farther_than_next (distances, curves->n))
    *distances = after;
  return TRUE;
}
