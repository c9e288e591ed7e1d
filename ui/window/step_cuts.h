/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a log is cut by hand, and what each stretch between the cuts is as a trial. No widget here. */
#pragma once

#include "cut_steps.h"

/* A stretch between two cuts. */
typedef struct {
  SbCut cut;
  gboolean has_step;
  char *what; /* "0 → 10 N·m at 0.500 s", or "no step" */
} SbStretch;

/* Cuts that part the steps found in the log's command from one another: double, rising. (transfer full) */
GArray *sb_step_cuts_found (const SbLog *log);

/* Cuts that part the trials of the log `path` in the bench from one another; empty when it is whole. (transfer full) */
GArray *sb_step_cuts_of (const SbBench *bench, const char *path, const SbLog *log);

/* The stretches between `cuts`, one more than there are cuts: SbStretch. Takes some milliseconds for each million of
 * rows. (transfer full) */
GArray *sb_step_cuts_try (SbLog *log, const GArray *cuts);

/* The middle of the longest stretch, for another cut. */
double sb_step_cuts_gap (const SbLog *log, const GArray *cuts);
