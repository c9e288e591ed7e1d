/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The single-log view: centred moving mean and moving standard deviation over a window of time. */
#pragma once

#include <glib.h>

/* For each of n samples, mean and standard deviation (divisor m - 1; 0 for m = 1) of the m samples within window_s / 2 on
 * either side. Times in s, strictly rising. Linear time, without the cancellation of running sums of squares: the sums are
 * shifted and refreshed. */
void sb_moving_band (const double *time_s, const double *y, gsize n, double window_s, double *mean, double *sd);
