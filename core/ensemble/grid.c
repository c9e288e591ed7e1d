/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "grid.h"

#include <math.h>

#define EDGE_SLACK_STEPS 1e-6
/* An instant this close behind a sample is the sample: sums of decimal times differ by roundings of that order. */
#define SAMPLE_SLACK_STEPS 1e-9
#define POINTS_PER_SAMPLE  16

/* Clamped to what an integer and a double hold alike. */
static gint64
to_point (double steps)
{
  return (gint64) CLAMP (steps, -9e15, 9e15);
}

SbGridSpan
sb_grid_span (const SbTrial *trial, double step_s)
{
  double first_s = trial->time_s[0] - trial->onset_s;
  double last_s = trial->time_s[trial->n_samples - 1] - trial->onset_s;
  SbGridSpan span = { to_point (ceil (first_s / step_s - EDGE_SLACK_STEPS)),
                      to_point (floor (last_s / step_s + EDGE_SLACK_STEPS)) + 1 };
  gint64 most = POINTS_PER_SAMPLE * (gint64) trial->n_samples;
  span.first = MAX (span.first, MIN (span.end, 0) - most);
  span.end = MIN (span.end, MAX (span.first, 0) + most);
  return span;
}

SbGridSpan
sb_grid_common (SbGridSpan a, SbGridSpan b)
{
  SbGridSpan both = { MAX (a.first, b.first), MIN (a.end, b.end) };
  both.end = MAX (both.first, both.end);
  return both;
}

SbGridSpan
sb_grid_union (SbGridSpan a, SbGridSpan b)
{
  return (SbGridSpan){ MIN (a.first, b.first), MAX (a.end, b.end) };
}

void
sb_grid_walk_init (SbGridWalk *walk, const SbTrial *trial, double step_s, gint64 first)
{
  double target = trial->onset_s + (double) first * step_s;
  gsize low = 0, high = trial->n_samples - 1;
  while (low + 1 < high) {
    gsize middle = low + (high - low) / 2;
    if (trial->time_s[middle] <= target)
      low = middle;
    else
      high = middle;
  }
  *walk = (SbGridWalk){ trial, step_s, first, low };
}

void
sb_grid_walk (SbGridWalk *walk, gsize n, SbGridWeights *weights)
{
  const double *t = walk->trial->time_s;
  const double onset_s = walk->trial->onset_s, step_s = walk->step_s, slack_s = SAMPLE_SLACK_STEPS * step_s;
  const gsize last = walk->trial->n_samples - 2;
  gsize at = walk->at;
  for (gsize k = 0; k < n; k++) {
    double target = onset_s + (double) (walk->next + (gint64) k) * step_s;
    while (at < last && t[at + 1] <= target + slack_s)
      at++;
    double beyond = target - t[at];
    weights->at[k] = at;
    weights->share[k] = beyond <= slack_s ? 0 : MIN (beyond / (t[at + 1] - t[at]), 1);
  }
  walk->at = at;
  walk->next += (gint64) n;
}
