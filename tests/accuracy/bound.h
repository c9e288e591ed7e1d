/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cramér-Rao bounds, by the Jacobian of the signal: no unbiased estimate has less spread. Sources: Rife & Boorstyn
 * 1974; Yao & Pandit 1995 (the formulas from memory, derived again). */
#pragma once

#include <glib.h>

typedef struct {
  double frequency_hz, damping_ratio; /* standard deviations */
} RingingBound;

/* Of A e^(-a t) sin (w t + phase) of size `amplitude`, n samples `interval_s` apart from t = 0 on, in white noise of
 * standard deviation `noise`. The first `n_nuisance` of an unknown offset and an unknown drift are fitted as well. */
RingingBound ringing_bound (double amplitude, double decay_per_s, double omega_rad_per_s, double phase, gsize n,
                            double interval_s, double noise, gsize n_nuisance);

/* Square root of the leading element of the inverse of the n x n matrix `information`: the bound of its first
 * parameter. `information` is overwritten. */
double bound_of_first (double *information, gsize n);
