/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decaying oscillations in an evenly sampled record, by the shift invariance of its signal subspace (the matrix pencil
 * of Hua & Sarkar 1990, on the moment matrix of the record). A first estimate: least squares refine it. */
#pragma once

#include <glib.h>

/* e^((-decay ± i omega) k), k counting samples. */
typedef struct {
  double decay, omega;
} SbPole;

#define SB_MAX_POLES 3

/* At most SB_MAX_POLES oscillations (omega > 0) of `n` values, in no particular order. Returns their number. */
gsize sb_poles_estimate (const double *y, gsize n, SbPole pole[SB_MAX_POLES]);
