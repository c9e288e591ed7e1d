/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside ensemble only: where the instants of a common grid fall among the samples of one trial. */
#pragma once

#include "trial.h"

/* Grid points handled together, so that weights stay in the processor's first cache while every channel uses them. */
#define SB_GRID_BLOCK 512

/* Grid points [first, end): those a trial covers. A point that misses the first or last sample by less than 1e-6 of a
 * step counts as covered: sample intervals are known to 12 digits, and a million of them may be off by that much. */
typedef struct {
  gint64 first, end;
} SbGridSpan;

/* Holes make a grid long: a clock that jumps years ahead within a log would ask for 10^12 points. On either side of the
 * onset a span therefore ends after 16 points for each sample of the trial. */
SbGridSpan sb_grid_span (const SbTrial *trial, double step_s);
SbGridSpan sb_grid_common (SbGridSpan a, SbGridSpan b);
SbGridSpan sb_grid_union (SbGridSpan a, SbGridSpan b);

/* Goes along the grid and along the samples at once. */
typedef struct {
  const SbTrial *trial;
  double step_s;
  gint64 next; /* grid point */
  gsize at;    /* sample at or before it */
} SbGridWalk;

/* For each point, the sample before it and how far, 0..1, it lies on the way to the next one. */
typedef struct {
  gsize at[SB_GRID_BLOCK];
  double share[SB_GRID_BLOCK];
} SbGridWeights;

void sb_grid_walk_init (SbGridWalk *walk, const SbTrial *trial, double step_s, gint64 first);

/* The next n <= SB_GRID_BLOCK points. Beyond the samples the share is 0 or 1: the end sample holds. */
void sb_grid_walk (SbGridWalk *walk, gsize n, SbGridWeights *weights);

static inline double
sb_grid_value (const SbGridWeights *weights, const double *y, gsize k)
{
  const double *at = y + weights->at[k];
  return at[0] + weights->share[k] * (at[1] - at[0]);
}
