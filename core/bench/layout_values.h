/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The values that a layout may state, and what each may be: one table for layout files, sessions, the command line and
 * the sheet of columns. What one of them takes the others can read again. Documented in docs/layout-file.md. */
#pragma once

#include "layout.h"

typedef enum {
  SB_LAYOUT_COUNTS_PER_TURN,
  SB_LAYOUT_WRAP,
  SB_LAYOUT_TORQUE_CONSTANT,
  SB_LAYOUT_TORQUE_PER_VOLT,
  SB_LAYOUT_TORQUE_ZERO,
  SB_LAYOUT_FULL_SCALE,
  SB_LAYOUT_FACTOR,
  SB_N_COLUMN_VALUES, /* those before are of a column, those behind of the layout */
  SB_LAYOUT_SAMPLE_RATE = SB_N_COLUMN_VALUES,
  SB_N_LAYOUT_VALUES,
} SbLayoutValue;

/* "counts_per_turn": the member of a layout file. */
const char *sb_layout_value_name (SbLayoutValue value);

/* Whether a member of this name is it; "wrap" is "wrap_counts" in older files, whatever its unit. */
gboolean sb_layout_value_is_named (SbLayoutValue value, const char *name);

/* The dimension of the units that cannot be read without it; -1: none. */
int sb_layout_value_dimension (SbLayoutValue value);

/* Where a column has it; NaN while it is not known. */
double *sb_layout_value_place (SbLayoutColumn *column, SbLayoutValue value);
double sb_layout_value_get (const SbLayoutColumn *column, SbLayoutValue value);

/* Whether `number` may be stated, of a column with this role; NaN may not. */
gboolean sb_layout_value_takes (SbLayoutValue value, SbRole role, double number);

/* "a number other than 0, from 1e-12 to 1e15 in size": what it takes. (transfer full) */
char *sb_layout_value_range (SbLayoutValue value);

/* "is no number", "is 0", "is not above 0", "is not from 1e-12 to 1e15 in size": why `number` is not taken (NaN: what
 * was written is no number); NULL when it is. (transfer full) */
char *sb_layout_value_fault (SbLayoutValue value, SbRole role, double number);
