/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scalar statistics of repeats. Sources: JCGM 100:2008 (GUM) 4.2 and 4.4.3 (type A), Student 1908. */
#pragma once

#include <glib.h>

/* Arithmetic mean, two-pass compensated; n >= 1. */
double sb_mean (const double *x, gsize n);

/* Sample standard deviation, divisor n - 1, about the mean of sb_mean(); NaN for n < 2. */
double sb_sd (const double *x, gsize n);

/* Lag-1 autocorrelation, sum (x[i] - m) (x[i + 1] - m) / sum (x[i] - m)², m the mean of all n (NIST StRD; e-Handbook
 * 1.3.5.12). Of n independent values it scatters about -1/n by 1/sqrt (n). NaN for n < 2 and for values that are all
 * equal. */
double sb_lag1_autocorrelation (const double *x, gsize n);

/* Quantile p of 0..1, linear between order statistics (Hyndman & Fan 1996, type 7); reorders `x`. n >= 1. */
double sb_quantile (double *x, gsize n, double p);

/* The t of Student's distribution with `df` > 0 degrees of freedom (need not be whole) below which the share `p` lies.
 */
double sb_student_t (double p, double df);

/* Half the width of the `level` (0.95) confidence interval of a mean: t * sd / sqrt (n); NaN for n < 2. */
double sb_mean_half_width (double sd, gsize n, double level);
