/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a response still rises where its active window ends, so that the second state of its transition (IEEE Std
 * 181) is not in the log. For the files of this folder only. */
#pragma once

#include <glib.h>

/* Of the rise seen so far, what it gains over the last quarter of the window: from here on it is told; */
#define SB_STILL_RISING_SHARE 0.01
/* from here on, whatever was before it, it is told to drift: over the whole window 2 % of the step, and any one level
 * is off by up to half of that. */
#define SB_DRIFTING_SHARE 0.005
/* from here on a level that it rises to is not known. A first-order response gains 5.8 % there when it is cut at three
 * time constants, and 90 % of what was seen is then 16 % early. */
#define SB_CUT_SHORT_SHARE 0.05

/* What samples first..last of `y` gain over the last quarter of their time, by a least-squares line; 0 unless that
 * leads above all that was before it and is clear of the noise (standard deviation `sd`; NaN: taken from the line's
 * residuals) and of SB_STILL_RISING_SHARE. With `share` that of the rise from `base`. */
double
sb_still_rising (const double *t, const double *y, gsize first, gsize last, double base, double sd, double *share);

/* The gain (negative: the loss) of the same line whatever was before it; 0 unless it is clear of the noise and of
 * SB_DRIFTING_SHARE of `step`. */
double sb_still_drifting (const double *t, const double *y, gsize first, gsize last, double step, double sd);
