/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When noise makes a curve pass a level: the distribution of the first (or last) passage, propagated sample by sample.
 *
 * A curve d(t), whose noise has the standard deviation `sd` and is independent from one sample to the next, is beyond
 * its level (> 0) at sample i with probability Phi (d[i] / sd); it is so there for the first time with the product of
 * that and of the chances of not being so before. The instant lies where the line to the sample before meets the level,
 * given that the two are on either side of it (means and variances of truncated normal values: any text on
 * probability). So jumps to another half-period of a ringing are in the spread, with the chance that they have. For the
 * files of this folder only. */
#pragma once

#include <glib.h>

typedef struct {
  double mean_s, sd_s;
  double early_s, late_s; /* it is before the one, and after the other, in one log of a hundred each */
  double chance;          /* that there is a passage at all */
} SbPassage;

/* Of n >= 2 samples, the first time that d[i] rises above 0. sd > 0. */
SbPassage sb_first_passage (const double *t, const double *d, gsize n, double sd);

/* The last time that d[i] falls from above 0. */
SbPassage sb_last_passage (const double *t, const double *d, gsize n, double sd);
