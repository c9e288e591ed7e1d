/* SPDX-License-Identifier: GPL-3.0-or-later */
/* State levels by the histogram (mode) method, and reference-level crossings. Source: IEEE Std 181-2011. */
#pragma once

#include <glib.h>

/* Smallest and largest of n >= 1 values. */
void sb_value_range (const double *y, gsize n, double *lowest, double *highest);

/* The mode of the amplitude histogram of `n` values: centre of gravity of the fullest of `n_bins` bins and its two
 * neighbours, which takes the bin's width out of the answer on clean data (a tie goes to the lower bin). With
 * `plateau_share` (may be NULL) the share of values, 0..1, inside those three bins: a plateau holds most of them.
 * n >= 1; all-equal values give that value and share 1. */
double sb_level_mode (const double *y, gsize n, gsize n_bins, double *plateau_share);

#define SB_LEVEL_BINS 256

/* Mean of the values within `half_width` of `centre` (the centre when there are none), and the share of the n >= 1
 * values that they are. */
double sb_level_near (const double *y, gsize n, double centre, double half_width, double *share);

/* A state with noise on it: the mode, refined as the mean of what lies within three standard deviations of it, repeated
 * until nothing comes or goes. So what strays from the state, a rise that begins, stays out of both. */
typedef struct {
  double level, sd; /* sd NaN of fewer than two values */
  gsize n;          /* values within */
} SbBaseLevel;

/* n >= 1 values. */
SbBaseLevel sb_level_base (const double *y, gsize n);

/* The step that a coarse signal of `n` values goes to and fro by: the smallest change that the next one takes back or
 * goes beyond; 0 where there is none, as on a ramp. */
double sb_step_to_and_fro (const double *y, gsize n);

/* First index i in [first, last) with y[i] < level <= y[i + 1] (a rising crossing), or `last` when there is none. */
gsize sb_first_crossing (const double *y, gsize first, gsize last, double level);

/* Time of that crossing, linear between samples i and i + 1. */
double sb_crossing_time (const double *t, const double *y, gsize i, double level);
