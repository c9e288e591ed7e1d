/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which lines of a file are rows of the table that is read, while they go by: the preamble, the header once more, the
 * header of another table, words that may be its title. */
#pragma once

#include "log_build.h"
#include "rows.h"

/* A table behind the one that is read. */
typedef struct {
  guint64 line;      /* of its header, or of its first row when the time only starts again */
  guint64 n_rows;    /* data rows */
  gboolean restarts; /* it has no header of its own */
  guint wrap_bits;   /* the time falls as that of a counter of so many bits that begins again; 0: not so */
} SbOtherTable;

typedef struct {
  SbLayout *layout; /* borrowed */
  char *header;     /* the first line of the header, by which a repeated one is known; NULL: not yet seen */
  GPtrArray *below; /* char *: the lines between it and the rows: more names, units */

  guint64 gap_line;     /* the last line of a gap that began with a blank one */
  guint64 restart_line; /* here the first row behind a repeated header would be; 0: none */
  GArray *titles;       /* guint64: lines that are titles if another table follows, and faulty rows if not */

  guint64 end_line; /* of the line that ended the table; 0: it goes on */
  GArray *others;   /* SbOtherTable: that followed, the first ones */
  guint64 n_others;
  gboolean same_columns; /* the last of them has the columns of this table, ... */
  SbTimeSpan span;       /* ... these times ... */
  SbFall fall;           /* ... and this fall */
} SbTableLines;

void sb_table_lines_init (SbTableLines *lines, SbLayout *layout);
void sb_table_lines_clear (SbTableLines *lines);

typedef enum {
  SB_TAKE_AS_ROW,
  SB_TAKE_AS_NOTHING,
} SbTake;

/* A line of `text` that is no comment. `blank`: nothing but blanks is in it. */
SbTake sb_table_lines_take (SbTableLines *lines, SbRows *rows, SbLog *log, SbCells *cells, const char *text,
                            gsize length, guint64 line, gboolean blank);

/* Rows went by the fast way: words before them were no title of another table, and no other recording has begun. */
void sb_table_lines_pass_rows (SbTableLines *lines, SbRows *rows, SbLog *log);

/* The time has started again at rows->fall.line (sb_rows_add): the table ends before it. */
void sb_table_lines_restart (SbTableLines *lines, SbRows *rows);

/* A comment of `line` does not end a gap. */
void sb_table_lines_pass_comment (SbTableLines *lines, guint64 line);

/* After the last line: what was found beside the table, as notes of the log. */
void sb_table_lines_finish (SbTableLines *lines, SbRows *rows, SbLog *log);
