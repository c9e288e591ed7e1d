/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a table ends: before another header, before its own once more when the test was started again, or where the
 * time starts again without any. Inside of tables.c. */
#pragma once

#include "table_start.h"

/* Sets the column of the time and the style of its numbers, from the names and the first rows. */
void sb_table_find_time (SbFoundTable *found);

/* The index of the line that begins another table, or n_lines; the table is looked at from line `first` on. Sets
 * table.last_line when there is one, `restarts`, `behind` and `n_undecided`. */
guint sb_table_find_end (const SbTableFinder *finder, guint first, SbFoundTable *found);
