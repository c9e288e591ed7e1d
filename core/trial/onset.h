/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the step begins and which way it goes. Definitions: 'Time base' of docs/methods.md. */
#pragma once

#include "steps.h"

typedef struct {
  double onset_s;
  double uncertainty_s; /* standard, of a response: by its noise and sampling; 0 of a command */
  int direction;        /* +1 or -1 */
  double base, top;     /* state levels, as written (not mirrored) */
  double level_end_s;   /* end of the level stepped to; the last time when it holds to the end */
} SbOnset;

/* Onset by a command that holds no levels: the instant at which it crosses the middle of its two state levels. FALSE
 * when it does not step. */
gboolean sb_onset_by_command (const double *t, const double *command, gsize n, SbOnset *onset);

/* The same by one of the command's steps, of which the level stepped to ends before sample `end` (n: with the log). */
void sb_onset_at_step (const double *t, const double *command, gsize end, gsize n, const SbStep *step, SbOnset *onset);

/* Onset by a response: the line through its 10 % and 50 % crossings carried back to the base level. A torque's top is
 * its plateau (`plateau` TRUE), which ends where the torque is taken back; a free-running velocity has none and its
 * largest value serves. FALSE when it does not move or there is nothing before the move. */
gboolean sb_onset_by_response (const double *t, const double *response, gsize n, gboolean plateau, SbOnset *onset);
