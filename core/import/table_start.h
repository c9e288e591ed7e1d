/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a table begins at a line, and how it is best seen: each delimiter is tried, with a header and without, and
 * weighed by how well the rows behind it suit. Inside of tables.c. */
#pragma once

#include "dialect.h"
#include "header_join.h"
#include "tables.h"

typedef struct {
  const SbLines *lines;
  const SbTableView *view;
  SbCells *cells;
} SbTableFinder;

/* One way to see a header at a line. */
typedef struct {
  char delimiter;
  guint header;        /* index of the line; G_MAXUINT: none */
  guint header_end;    /* behind the header's last line */
  guint units;         /* index; G_MAXUINT: none */
  guint first;         /* of the data rows */
  guint n_cells;       /* of the header, else of the rows */
  guint channels;      /* the names speak of so many */
  gboolean consistent; /* the first row has as many cells, and a number */
  gboolean numeric;    /* the first two rows are numbers, two or more */
  SbHeaderForm form;   /* of the names */
  double score;
} SbTableStart;

/* Bytes of blanks a line begins with, and the byte behind them; '\0' when there is nothing else. */
gsize sb_table_blanks_before (const SbLine *line);
char sb_table_first_of (const SbLine *line);

gboolean sb_table_is_comment (const SbTableFinder *finder, guint index);

/* The first line from `index` on that is neither blank nor a comment; n_lines when there is none. */
guint sb_table_next_line (const SbTableFinder *finder, guint index);

/* `index`, or the one behind it when a rule is drawn there: "|---|---|". */
guint sb_table_behind_rule (const SbTableFinder *finder, guint index);

/* The line's number in the file. */
guint64 sb_table_line_number (const SbTableFinder *finder, guint index);

/* The header's line as fixed by a person, or SB_AUTOMATIC. */
gint64 sb_table_fixed_header (const SbTableFinder *finder);

/* Splits the line; its cells stand in finder->cells afterwards. */
SbLineShape sb_table_shape_at (const SbTableFinder *finder, guint index, char delimiter);

/* The header's names in one line, without the prefix of a comment; *end is the index behind its last line. NULL when it
 * is not of start->form. (transfer full) */
char *sb_table_header_text (const SbTableFinder *finder, const SbTableStart *start, guint *end);

/* The best way to see a header at the line. FALSE when there is none, unless it is `forced`. */
gboolean sb_table_best_header (const SbTableFinder *finder, guint index, gboolean forced, SbTableStart *best);

/* The table that begins at the line, if any does. */
gboolean sb_table_begins (const SbTableFinder *finder, guint index, SbTableStart *start);
