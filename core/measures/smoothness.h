/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spectral arc length, adaptive form. Source: Balasubramanian, Melendez-Calderon, Roby-Brami & Burdet 2015. */
#pragma once

#include <glib.h>

/* Of `n` values sampled at `rate_hz`, up to `cutoff_hz`: negative, nearer to zero is smoother, independent of the size
 * of `v`. NaN when all values are 0. */
double sb_spectral_arc_length (const double *v, gsize n, double rate_hz, double cutoff_hz);
