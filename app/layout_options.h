/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Command-line options that state how logs are written. */
#pragma once

#include "exit_status.h"

#include "analysis.h"

/* Values that are not given are NaN. */
typedef struct {
  char **files;        /* --layout */
  gboolean remembered; /* --remembered-layouts */
  double sample_rate_hz, torque_constant_nm_per_a, torque_per_volt_nm, torque_zero_v, counts_per_turn, full_scale_nm;
} SbLayoutOptions;

void sb_layout_options_init (SbLayoutOptions *options);
void sb_layout_options_clear (SbLayoutOptions *options);
void sb_layout_options_add (GOptionContext *context, SbLayoutOptions *options);

/* What one option states, and whether any log took it up. */
typedef struct {
  char *option;       /* "--layout rig.json"; NULL: the remembered ones, which need not be for a log */
  GPtrArray *choices; /* SbLayoutChoice */
  int wanted;         /* SbDimension that a column must have for a value to matter; -1: the choices tell */
  gboolean is_used;
  gboolean is_passed_over; /* for a log that is written otherwise than it states */
} SbStatedLayouts;

/* What the options state, in the order in which it goes before one another: values, files, remembered layouts.
 * SbStatedLayouts; NULL when an option is wrong or a file cannot be read, which has been said on stderr and is
 * `*status`. (transfer full) */
GPtrArray *sb_layout_options_read (const char *command, const SbLayoutOptions *options, SbExitStatus *status);

/* All SbLayoutChoice of them, in their order. (transfer full) */
GPtrArray *sb_stated_layouts_list (const GPtrArray *stated);

/* Puts them before the layouts of the bench; the remembered ones behind. */
void sb_stated_layouts_apply (const GPtrArray *stated, SbBench *edited);

/* Notes which of them are for a log that was read by `layout`. */
void sb_stated_layouts_note (GPtrArray *stated, const SbLayout *layout);

/* Says on stderr which options are for none of the logs: SB_EXIT_LEFT_OUT when there is one, else SB_EXIT_DONE. */
SbExitStatus sb_stated_layouts_say_unused (const GPtrArray *stated);
