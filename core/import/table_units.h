/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The row of units of a table, wherever it stands around the names. Inside of tables.c. */
#pragma once

#include "table_start.h"

/* The first line from `index` on that has anything in its cells and is no comment: spreadsheets write an empty line as
 * delimiters alone. n_lines when there is none. */
guint sb_table_next_cells (const SbTableFinder *finder, guint index, char delimiter);

/* Whether the line is a units row; `cells` hold it then. */
gboolean sb_table_is_units (const SbTableFinder *finder, guint index, char delimiter);

/* Finds the units that stand above the names, and the names above a header that is nothing but units, which may be
 * comments. For a start that the table is taken from. */
void sb_table_settle_units (const SbTableFinder *finder, SbTableStart *start);

/* The cells of start->units; none when there are no units. */
void sb_table_split_units (const SbTableFinder *finder, const SbTableStart *start);

/* Of the unit cells of a line "Vertical Units,V,V" above the header, which finder->cells hold: the words are taken off,
 * and where there is none for the time, an empty cell is put in its place. */
void sb_table_take_label_off (const SbTableFinder *finder, SbFoundTable *found);
