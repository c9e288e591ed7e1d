/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seeded draws of two configurations whose mean curves are known, and how often the bands about their difference hold.
 */
#pragma once

#include "difference_curve.h"
#include "make_trial.h"

/* How repeats deviate from their mean curve; sizes in shares of the step. */
typedef struct {
  const char *name;
  double gain;             /* of each repeat */
  double delay_s;          /* of each repeat */
  double noise;            /* from sample to sample, independent */
  double lagged, lag_s;    /* noise of a first-order filter with this time constant */
  double wander, wander_s; /* smooth: normal noise averaged with a bell of this width */
  double other_factor;     /* the other side deviates by so many times as much */
} DifferenceCase;

extern const DifferenceCase difference_cases[];
extern const gsize n_difference_cases;

typedef struct {
  gsize n_draws, n_covered;    /* draws; those whose band of all instants holds the truth everywhere */
  gsize n_instants, n_outside; /* instants; those at which the pointwise band does not hold it */
  double critical;             /* mean */
} DifferenceTally;

/* `n_points` samples at 1 kHz, a fifth of them before the onset; up to 20 repeats a side. Fails the test when a curve
 * is absent. */
DifferenceTally simulate_difference (const DifferenceCase *c, gsize n_reference, gsize n_other, gsize n_points,
                                     gsize n_draws, guint64 seed);
