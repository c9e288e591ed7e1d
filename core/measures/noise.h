/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The noise before the onset, which every standard uncertainty is propagated from. For the files of this folder only.
 */
#pragma once

#include "reading.h"

/* Standard deviation of the n values about their mean; NaN of fewer than two. */
double sb_noise_sd (const double *y, gsize n);

/* Lag-1 autocorrelation of the n values of a base level, up to where they leave it for good (a rise that begins before
 * the onset is no noise); NaN of fewer than 20, which cannot tell noise that is white from noise that is not. */
double sb_noise_lag1 (const double *y, gsize n, double level, double sd);

/* Propagation takes every sample's noise as its own. Of noise that is not (r > 0, beyond what chance does), an average
 * over many samples is worse by about sqrt ((1 + r) / (1 - r)), as for a first-order autoregression: then the measure
 * is doubted. `n` samples told `lag1`. */
void sb_measure_doubt_noise (SbMeasure *measure, double lag1, gsize n);
