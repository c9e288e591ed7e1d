/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A torque that is cut off within the first swings of a ringing. For the files of this folder only. */
#pragma once

#include <glib.h>

/* What y swings by over the last quarter of first..last, of which `peak` is the largest: when it falls from there by a
 * fifth of its height above `base` or more and comes up again by a quarter of that, still swings by a tenth of the
 * height in that quarter, beyond the noise (`noise`, NaN: not known), and passes the middle of it fewer than three
 * times, so that less than a cycle and a half is in it: the mean of such a quarter is whatever phase it happens to
 * hold. Else 0. */
double sb_still_swinging (const double *y, gsize first, gsize last, gsize peak, double base, double noise);
