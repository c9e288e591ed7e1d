/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What noise does to the largest of many values: it raises it. For the files of this folder only. */
#pragma once

#include "reading.h"

/* A bias by noise beyond this share of the value is told. */
#define SB_BIAS_SHARE 0.01

/* Mean of the largest of `m` >= 1 independent normal values of standard deviation 1 (m need not be whole): Blom 1958,
 * from memory. */
double sb_largest_of_normal (double m);

/* How far the largest of `n` values is expected to lie above the largest value without noise, of standard deviation
 * `sd`. The values that are as good as the largest are counted as those above it without noise: half of them are. */
double sb_largest_bias (const double *y, gsize n, double sd);

/* Fills the uncertainty, the bias and, where that matters, the doubt of a measure whose value is the largest of the n
 * values at `y`, one sample each. `remedy` ends the sentence. */
void
sb_measure_doubt_largest (SbMeasure *measure, SbMeasureId id, const double *y, gsize n, double sd, const char *remedy);

/* Standard deviation of what lies before the onset; NaN of fewer than two samples. */
double sb_reading_base_sd (const SbReading *reading, const double *y);
