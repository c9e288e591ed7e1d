/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line -> its cells, by libcsv: quotes, doubled quotes, blanks around cells. The only file that knows libcsv.
 *
 * A line is a row: a quoted cell does not go on in the next line, so one stray quote costs one row and not the rest of
 * the log. */
#pragma once

#include <glib.h>

typedef struct _SbCells SbCells;

SbCells *sb_cells_new (void);
void sb_cells_free (SbCells *cells);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCells, sb_cells_free)

/* '"' unless set; 0: cells are not quoted. */
void sb_cells_set_quote (SbCells *cells, char quote);

/* Splits `length` bytes without line end; what was split before is gone. A line of blanks has no cells.
 * With the delimiter ' ' cells are parted by runs of blanks and tabs. */
void sb_cells_split (SbCells *cells, const char *line, gsize length, char delimiter);

guint sb_cells_count (const SbCells *cells);

/* The text of a cell, NUL-terminated, valid until the next split; *length may be NULL. */
const char *sb_cells_get (const SbCells *cells, guint index, gsize *length);
