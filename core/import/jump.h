/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the clock of a recording jumps ahead: it was set, or nothing was logged for so long. Either way the rows behind
 * are not known to follow those before by the time they say. The rows are kept as they are.
 *
 * A jump is a step of the time of more than 20 sampling intervals (the median step) that is longer than a tenth of all
 * the other steps together that are no jumps. The shorter holes of a recording are gaps (time_base.h of core/trial). */
#pragma once

#include "row_lines.h"

#include <glib.h>

/* The longest are told first when there are more. */
#define SB_JUMPS_MOST 32

typedef struct {
  gsize row;         /* the first row behind it, an index of the rows kept */
  guint64 line;      /* of that row; 0: not known (row_lines.h) */
  double before_s;   /* the time of the row before */
  double step_s;     /* by which the time goes on */
  double interval_s; /* by which it does else */
} SbJump;

/* Of the n strictly increasing times, s. By row. (transfer full) (element-type SbJump) */
GArray *sb_jumps_find (const double *time_s, gsize n, const SbRowLines *lines);

/* "the clock jumps ahead by 3600 s at line 514 (from 0.513 s to 3600.514 s)". (transfer full) */
char *sb_jump_text (const SbJump *jump);
