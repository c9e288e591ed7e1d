/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In which line of the file each row stands that was kept. Rows mostly follow one another line by line: only where they
 * do not is anything written down. */
#pragma once

#include <glib.h>

/* A file with more places than this where rows do not follow one another knows the lines of those before only. */
#define SB_ROW_LINES_MOST_RUNS 65536

typedef struct {
  GArray *runs;     /* of rows that follow one another; NULL: none yet */
  gboolean is_full; /* nothing is known of the rows from the last run on */
} SbRowLines;

void sb_row_lines_clear (SbRowLines *lines);

/* Row `row` stands in `line`, those behind it in the lines behind; rows come in order. */
void sb_row_lines_add (SbRowLines *lines, gsize row, guint64 line);

/* 1-based; 0 when it is not known. */
guint64 sb_row_lines_find (const SbRowLines *lines, gsize row);
