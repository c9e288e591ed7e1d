/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far noise, and sampling, move the largest of many samples. For the files of this folder only. */
#pragma once

#include "measure_table.h"

/* A bias beyond this share of the value (of the step, where the value is a share of it) is told. */
#define SB_BIAS_SHARE 0.01

/* Mean of the largest of m >= 1 independent normal values, in standard deviations: Blom 1958 (from memory). */
double sb_largest_of_normal (double m);

/* Their largest value's own standard deviation, in those of one: 1 of a single value, 0.59 of ten, 0.43 of a hundred
 * (tables of order statistics, from memory, to 5 %). */
double sb_largest_scatter (double m);

/* The largest of noisy samples. */
typedef struct {
  double bias;     /* how far noise is expected to have raised it */
  double scatter;  /* its standard deviation by the noise */
  double sampling; /* the root mean square of what a crest between two samples rises above the higher of them: a
                    * parabola's, √(1/80) of half its second difference */
} SbLargest;

/* That of sample `at` of n; 0 at either end. */
double sb_crest_between_samples (const double *y, gsize n, gsize at);

/* Of `sign` times the n values at `y`, of which `at` is the largest; noise of standard deviation `sd` > 0. The values
 * that come near the largest are counted as those above it without noise: half of them are. */
SbLargest sb_largest_of_noisy (const double *y, gsize n, gsize at, double sign, double sd);

/* All three: what is told and not taken off counts. */
double sb_largest_uncertainty (const SbLargest *largest);

/* The measure is off by `sampling` (SI of the measure), so far as samples are too few to show the crest; nothing up to
 * SB_BIAS_SHARE of `whole`. */
void sb_measure_doubt_sampling (SbMeasure *measure, SbMeasureId id, double sampling, double whole);

/* Fills the uncertainty, the bias and, where these matter, the doubts of a measure whose value is the largest of many
 * samples, one each. `remedy` ends the sentence. */
void sb_measure_doubt_largest (SbMeasure *measure, SbMeasureId id, const SbLargest *largest, const char *remedy);
