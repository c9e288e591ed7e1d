/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A curve without most of its noise, for what noise does to it to be propagated about. For the files of this folder
 * only. */
#pragma once

#include <glib.h>

/* Noise of the local quadratic's value over 2 * half + 1 samples, over that of a sample: Savitzky & Golay 1964,
 * quadratic smoothing. 1 of a single sample. */
double sb_smoothing_noise_gain (gsize half);

/* That value at y[i] on an even time base, by their weights; half <= i and i + half are samples of y. */
double sb_smoothed (const double *y, gsize i, gsize half);

/* Values of the local quadratic over 2 * half + 1 samples (fewer at the ends of the n_samples) at samples first..last,
 * worked out at every quarter of `half` and linear between them. (transfer full) */
double *sb_smooth_curve (const double *t, const double *y, gsize n_samples, gsize first, gsize last, gsize half);
