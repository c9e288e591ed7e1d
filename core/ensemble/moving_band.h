/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The single-log view: centred moving mean and moving standard deviation over a window of time. */
#pragma once

#include <glib.h>

/* For each of n samples, mean and standard deviation (divisor m - 1; 0 for m = 1) of the m samples within window_s / 2
 * on either side (plus one part in 10^9, so that the rounding of decimal times does not decide). Times in s, strictly
 * rising. Linear time; moments are only ever merged (Chan, Golub & LeVeque 1983), never subtracted, so nothing cancels
 * however large a step the window has passed. `mean` and `sd` may not overlap `time_s` or `y`. */
void sb_moving_band (const double *time_s, const double *y, gsize n, double window_s, double *mean, double *sd);
