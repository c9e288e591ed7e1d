/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A signal that is cut off at the end of its sensor's range: it stands at exactly its largest value. For the files of
 * this folder only. */
#pragma once

#include <glib.h>

/* Runs of samples at exactly the largest value. */
typedef struct {
  gsize n_runs;  /* 0: nothing looks cut off */
  gsize longest; /* samples of the longest */
} SbFlatTops;

/* Runs of five samples or more at exactly the largest of samples first..last, with an excursion below it of more than
 * `clear`, and of more than the signal's own steps, between one run and the next. One run alone counts where noise, as
 * the samples before `first` show it, would make one as long in fewer than one of a million such logs. */
SbFlatTops sb_flat_tops (const double *y, gsize first, gsize last, double clear);
