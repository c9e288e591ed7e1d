/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Does a figure rise or fall with a level, or from repeat to repeat? By order and by medians, so that one odd value
 * decides nothing. Definitions: 'Trends' of docs/methods.md. */
#pragma once

#include <glib.h>

typedef struct {
  double slope;     /* median of the slopes between all pairs with different x (Theil 1950, Sen 1968) */
  double intercept; /* median (y) - slope * median (x) */
  double ci95[2];   /* of the slope, by Kendall's distribution of the number of rising pairs, normal approximation with
                     * correction for ties (Sen 1968) */
} SbTheilSen;

/* FALSE with nothing written when n < 3 or all x are equal. */
gboolean sb_theil_sen (const double *x, const double *y, gsize n, SbTheilSen *trend);

typedef struct {
  double statistic;    /* pairs of values from different levels that rise with the level; ties count half */
  double expected, sd; /* when there is no trend, corrected for ties */
  double z;            /* (statistic - expected) / sd, half a pair nearer to 0 (continuity correction) */
  double p; /* two-sided, normal approximation; of up to 7 values, each at a level of its own and without ties,
             * exact by Kendall's distribution */
} SbJonckheere;

/* Jonckheere 1954, Terpstra 1952; ties after Hollander & Wolfe 1999, 6.2. `level` orders the groups: values with one
 * level are one group. With every value at a level of its own it is Mann's and Kendall's test of a trend in time. FALSE
 * with nothing written when there are fewer than two levels, or all values are equal. */
gboolean sb_jonckheere (const double *level, const double *value, gsize n, SbJonckheere *test);
