/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps of a command: where it goes from one level that it holds to another. Definitions: 'Several steps in one
 * log' of docs/methods.md.
 *
 * A level is a stretch in which the command stays put: 8 samples and 5 ms at least, so that a glitch is none; a ramp
 * between two levels is one step. Noise is judged from the command itself: levels count as different when they differ
 * by more than it and by more than 2 % of the command's whole range. A level's value is the mode of its samples (state
 * levels of IEEE Std 181-2011), the edge lies where the command crosses the middle of the two levels. */
#pragma once

#include <glib.h>

typedef struct {
  double from_s, to_s; /* the stretch of the log that holds this step alone: from the log's start, or the middle of the
                        * level before, when the response to the edge before has died down; to the end of the level
                        * stepped to, or of the log */
  double edge_s;       /* first sample at the new level for a jump; else the crossing, linear between samples */
  double base_nm, top_nm; /* levels before and after, as written (not mirrored) */
  int direction;          /* +1 or -1 */
  gboolean is_release;    /* back to the level that the command rested at before its first step: no test of its own */
  gsize base_last;        /* last sample at the level before */
  gsize top_first, top_last; /* first and last sample at the level after */
} SbStep;

/* Every step and release in order of time; empty when the command holds one level or none. `n` times (s, rising) and
 * commands (N·m). (transfer full) */
GArray *sb_steps_find (const double *t, const double *command, gsize n);

/* Those that are no releases. */
gsize sb_steps_count (const GArray *steps);

/* The instant of an edge between two levels that `y` crosses the middle of between samples i - 1 and i; i >= 1. */
double sb_edge_time (const double *t, const double *y, gsize i, double base, double top);
