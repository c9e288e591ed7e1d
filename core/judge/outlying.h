/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values that stand apart from the other repeats. Nothing here drops a value: a person excludes a repeat, with a
 * reason. Definitions: 'Outlying repeats' of docs/methods.md. */
#pragma once

#include <glib.h>

/* One value taken out in turn: how far it stood from the mean of those left, in their standard deviations, and how far
 * the farthest of as many normal values may stand. */
typedef struct {
  gsize index; /* into the values */
  double statistic, critical;
} SbOutlying;

/* Grubbs 1969, two-sided: the value farthest from the mean. TRUE when it is outlying at the level `alpha`; `found` is
 * filled in either case. FALSE with nothing written when n < 3 or all values are equal. */
gboolean sb_grubbs (const double *values, gsize n, double alpha, SbOutlying *found);

/* Rosner 1983, generalized extreme studentized deviate, two-sided: the n_max farthest values, each after those before
 * it were taken out, into `found`; returns how many of them are outlying (the largest count whose statistic exceeds its
 * critical value). Good from 15 values on. 0 with `found` untouched when n_max < 1 or n < n_max + 2. */
gsize sb_generalized_esd (const double *values, gsize n, gsize n_max, double alpha, SbOutlying *found);

/* The values that are outlying by the test that suits their number: none below 7, Grubbs up to 14, generalized ESD for
 * up to a tenth of them from 15 on (2 at least). Returns how many, at most SB_MAX_OUTLYING, in `found`. */
#define SB_MAX_OUTLYING 16
gsize sb_outlying_find (const double *values, gsize n, double alpha, SbOutlying found[SB_MAX_OUTLYING]);
