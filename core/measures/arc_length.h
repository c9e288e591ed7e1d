/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spectral arc length of a speed profile: Balasubramanian et al. 2012 and 2015 (adaptive form), negative; nearer to
 * zero is smoother. */
#pragma once

#include <glib.h>

/* `v` holds n >= 2 values at `rate_hz`; `cutoff_hz` is the largest frequency looked at. NaN when v is all zero. */
double sb_spectral_arc_length (const double *v, gsize n, double rate_hz, double cutoff_hz);

/* Its derivatives by the n values, into `gradient`; FALSE when there is no arc. */
gboolean sb_spectral_arc_gradient (const double *v, gsize n, double rate_hz, double cutoff_hz, double *gradient);
