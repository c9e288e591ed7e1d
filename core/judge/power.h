/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How sure a comparison of two means can be before it is made: power, repeats and detectable differences of Welch's
 * two-sided t test and of two one-sided tests of equality. Definitions: 'Repeats planner' of docs/methods.md. */
#pragma once

#include <glib.h>

/* Share of the noncentral t distribution below `t`; df > 0. Lenth 1989, algorithm AS 243 (Applied Statistics 38,
 * 185-189); beyond a noncentrality of 37 the normal approximation of Abramowitz & Stegun 26.7.10, as is usual. */
double sb_noncentral_t (double t, double df, double noncentrality);

/* What two sides scatter by and how many repeats each has; n need not be whole. */
typedef struct {
  double sd[2]; /* in one unit; not both 0 */
  double n[2];  /* each above 1 */
} SbScatter;

/* Chance that Welch's two-sided test at `level` shows a true difference of this size, whatever its sign says (the far
 * tail included). Degrees of freedom after Welch-Satterthwaite. */
double sb_t_power (const SbScatter *scatter, double difference, double level);

/* Chance that two one-sided t tests at `level` show equality within ± margin when this is the true difference (Phillips
 * 1990; by quadrature over the scatter that may be found). */
double sb_tost_power (const SbScatter *scatter, double difference, double margin, double level);

/* Repeats on either side, at least 2, for which the power reaches `power`. 0 when more than SB_MOST_REPEATS would be
 * needed, or no number is enough. `scatter->n` is not looked at. */
#define SB_MOST_REPEATS 100000
/* More on either side are no practical number, and words say so in place of it: at a step every ten seconds 200 a side
 * take more than an hour, in which motor, drive and rig warm up and the conditions do not stay the same. */
#define SB_MOST_PRACTICAL_REPEATS 200
gsize sb_t_repeats (const SbScatter *scatter, double difference, double level, double power);
gsize sb_tost_repeats (const SbScatter *scatter, double difference, double margin, double level, double power);

/* Repeats on side `side` (0, 1) alone, while the other one keeps its `scatter->n`: of the t test, or of the two
 * one-sided ones where `margin` is a number. 0 likewise: the other side may be too few for any number. */
gsize
sb_repeats_beside (const SbScatter *scatter, int side, double difference, double margin, double level, double power);

/* The smallest true difference that is shown with the chance `power`; above 0. */
double sb_t_detectable (const SbScatter *scatter, double level, double power);
