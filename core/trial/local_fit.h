/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Local least squares: value and derivatives of a sampled signal on its real times.
 *
 * On an even time base with an odd number of points this is Savitzky & Golay 1964 (quadratic first derivative); on an
 * uneven one the same fit on the times as they are. */
#pragma once

#include <glib.h>

/* At the centre of a polynomial: second and higher degrees do what Savitzky & Golay's tables do on an even time base.
 */
typedef struct {
  double value, slope, curvature; /* y, its first and its second derivative by the time */
} SbLocalFit;

#define SB_LOCAL_FIT_DEGREES 4

/* The polynomial of `degree` 0..4 that fits the 2 * half + 1 > degree samples around t[centre] by least squares, on the
 * times as they are. half <= centre < n - half is the caller's duty. */
SbLocalFit sb_local_fit (const double *t, const double *y, gsize centre, gsize half, gsize degree);

/* Derivative, in units of y per second, at t[centre] of the quadratic fitted by least squares to the 2 * half + 1
 * samples around it. half >= 1; half <= centre < n - half is the caller's duty. With an even base `interval_s` > 0 says
 * the (constant) sample interval and the closed-form weights are used; `interval_s` 0 fits on the times. */
double sb_local_slope (const double *t, const double *y, gsize centre, gsize half, double interval_s);

/* Euclidean norm of the derivative weights c (per sample): noise of standard deviation s on y leaves the slope with
 * s * norm / interval. 1/sqrt(10) for 5 points, 1/sqrt(110) for 11. */
double sb_local_slope_noise_gain (gsize half);

/* The same of what the derivative of a quartic adds to that of the quadratic: of 7 points, sqrt (|22 -67 -58 ..|² /
 * 252²
 * - 1/28). half >= 2. */
double sb_local_quartic_extra_gain (gsize half);

/* Derivative of all n samples into `slope` (n values); the ends use the nearest full window's quadratic. n >= 2*half+1.
 */
void sb_local_slopes (const double *t, const double *y, gsize n, gsize half, double *slope);
