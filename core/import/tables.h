/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables in a stretch of lines: where each begins, what cuts its cells, what its header and units row say. */
#pragma once

#include "cells.h"
#include "clock.h"
#include "line.h"
#include "propose.h"
#include "restart.h"
#include "ticks.h"

/* Whole lines of a file, from `first_line` on. */
typedef struct {
  SbLine *lines;
  guint n_lines;
  guint64 first_line;
  gboolean to_end; /* the last of them is the last of the file */
} SbLines;

/* Rows that the style of the numbers and the shape of the columns are found from. */
#define SB_SAMPLE_ROWS 30

/* The times of a table's rows up to a line. */
typedef struct {
  SbTimeSpan span;
  SbClock clock;
  SbTicks ticks;
} SbTableTimes;

typedef struct {
  SbTable table;
  guint64 units_line;
  char delimiter;
  GPtrArray *names;            /* char *: of the columns, UTF-8, trimmed; "column 3" where there is none */
  GPtrArray *unit_cells;       /* char *: one for each column; NULL when there is no units row */
  GPtrArray *rows;             /* GPtrArray of char *: the cells of the first data rows, as written */
  gboolean sure;               /* rows that suit a header follow it, or numbers that need none */
  char *header;                /* the line of the header as stored, by which a repeated one is known; NULL */
  int time_column;             /* -1: not known */
  char decimal, thousands;     /* as the first rows show; 0 */
  SbTableTimes before, behind; /* the lines that are looked at */
  guint n_undecided; /* the last lines may begin another recording: they are wanted once more, with those behind them */
  guint64
      unclear; /* a bit for each of the first 64 columns: a header of two lines may be joined to give it another role */
  gboolean restarts; /* it ends where the time starts again */
} SbFoundTable;

void sb_found_table_free (SbFoundTable *found);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFoundTable, sb_found_table_free)

/* How the lines are to be looked at. */
typedef struct {
  const SbDialectChoices *fixed;
  SbEncoding encoding;
  char quote;
  const char *comment_prefix;
  SbFoundTable *open; /* the lines go on within it, its last_line is set when it ends; NULL: none */
} SbTableView;

/* The prefix of the comments: the first of "#", "%", "//" and ";" that begins one before the first line of numbers;
 * else "#". */
const char *sb_tables_comment_prefix (const SbLines *lines);

/* '\'' when cells are quoted so, else '"'. */
char sb_tables_quote (const SbLines *lines);

/* The tables among the lines, in order. A table whose end is not among them has last_line 0. (transfer full) */
GPtrArray *sb_tables_find (const SbLines *lines, const SbTableView *view);

/* Whether a line within a table begins another one. Asked for lines that are no rows: names instead of numbers. */
typedef struct {
  char delimiter;
  const char *header; /* of the table; NULL when it has none */
  gboolean after_blank;
} SbTableBreak;

typedef enum {
  SB_LINE_IS_ROW,
  SB_LINE_IS_HEADER,      /* the table's own, once more */
  SB_LINE_BEGINS_ANOTHER, /* another table's header */
  SB_LINE_IS_TITLE,       /* words after a blank line, that another header may follow */
} SbLineKind;

SbLineKind sb_tables_line_kind (SbCells *cells, const SbTableBreak *at, const char *line, gsize length);
