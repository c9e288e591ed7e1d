/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The data rows of one log while it is read: what each column is, and the values so far.
 *
 * Two ways lead in: sb_rows_add for cells split by libcsv, which says what is wrong with a row, and sb_plain_rows_read
 * (plain_rows.h) for regular rows straight from the bytes. Both keep the same rows with the same bits. */
#pragma once

#include "cells.h"
#include "clock.h"
#include "column_memory.h"
#include "convert.h"
#include "log_build.h"
#include "restart.h"
#include "row_lines.h"
#include "setback.h"
#include "ticks.h"

/* What is larger, in SI, is no measurement but a fault of the log: the marks of overload of instruments are, in every
 * unit, and squares and sums of what is kept stay finite. */
#define SB_LARGEST_VALUE 1e25

/* What both ways want of a column, close together; all of it is in the conversion. */
typedef struct {
  int channel;      /* SbChannel, or -1: not kept row by row */
  int power_of_ten; /* SI value = written * 10^power_of_ten, in one rounding, */
  gboolean scaled;  /* and then times factor */
  double factor;
  int aside; /* which SbAsideKind is summed up from it, or -1 */
} SbRowColumn;

/* How rows are read; the log is the same each way. */
typedef enum {
  SB_ROWS_FASTEST,  /* the best that the processor can do */
  SB_ROWS_PORTABLE, /* by what every processor can do */
  SB_ROWS_LIBCSV,   /* all by libcsv */
} SbRowsWay;

typedef struct {
  SbRowsWay way;
  SbRowColumn *columns;
  SbConversion *conversions;
  guint n_columns;
  char delimiter;
  char decimal;          /* 0 until a row has shown it */
  char thousands, quote; /* as in SbLayout */
  char late_thousands;   /* as a number far behind the lines looked at shows them; 0: none does */
  gboolean is_thousands_stated;
  char comment_first;  /* the first character of a comment; 0: there are none */
  guint64 last_line;   /* of the table; G_MAXUINT64: to the end of the file */
  gboolean cut;        /* the row that is added next has no line end: the file may be cut */
  gboolean open_quote; /* ... has a quote that is not closed */
  guint64 cut_line;    /* of the row without line end whose last cell is a number; 0: there is none */
  guint cut_decimals;  /* that the number has; G_MAXUINT: an exponent that looks whole */
  char *question;      /* a number that may be read in two ways, met before the decimal sign was known; NULL */
  double *values[SB_N_CHANNELS];
  gboolean has_asides, has_clock, counts_samples;
  double row_rate_hz;              /* of a log without time, whose rows are the samples; 0: a column is the time */
  gsize n_no_samples;              /* rows left out that were no sample: words alone, empty cells alone */
  double aside[SB_N_ASIDES];       /* of the row that is being read, as written; NaN: no number */
  double waiting[SB_N_ASIDES];     /* of the last row that was kept, SI; NaN: no number. Not in the sums yet, */
  SbAsideSum summing[SB_N_ASIDES]; /* for its time may turn out to stand alone */
  SbClock clock;
  guint64 clock_again_line; /* where it first began again: at midnight or a full hour; 0: it did not */
  SbTicks ticks;            /* of the rows so far, as far as a fall has made it worth the look */
  guint64 ticks_line;       /* where the counter first began again */
  gsize n_rows;
  gsize capacity;
  SbRowLines lines; /* where the rows stand in the file */
  double last_time;
  SbFall fall; /* the time fell, and rows since go on from there: another recording may have begun */
  char *fallen[SB_RESTART_ROWS - 1];        /* what is wrong with these rows if not */
  guint64 fallen_line[SB_RESTART_ROWS - 1]; /* and where they are */
  guint n_fallen;
  SbSetback setback;  /* the rows since the last kept one that contradict those before */
  SbDigest *digest;   /* follows the rows that are read the fast way; borrowed, may be NULL */
  SbColumnPool *pool; /* where the columns come from; borrowed, may be NULL */
} SbRows;

/* What `layout` says of the columns and numbers, into rows and log->columns. Of two columns with one channel the first
 * counts and the second is a fault of the header's line. FALSE with SB_LOG_ERROR_NO_TIME, _NO_SIGNAL or _LAYOUT. */
gboolean sb_rows_set_layout (SbRows *rows, SbLog *log, const SbLayout *layout, GError **error);

void sb_rows_init (SbRows *rows);
void sb_rows_clear (SbRows *rows);

/* Makes room for at least one row more, or for `n_expected` in all when that is more. */
void sb_rows_grow (SbRows *rows, gsize n_expected);

/* Adds the row of `line`, or counts it as left out in `log` with the reason. TRUE when the time has started again:
 * another recording begins at rows->fall.line, and none of its rows counts. */
gboolean sb_rows_add (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line);

/* The time did not start again with the rows that fell back: they are left out. */
void sb_rows_leave_fallen_out (SbRows *rows, SbLog *log);

/* No row follows those that contradict: where the time was set back is told in `log` when rows were kept behind. */
void sb_rows_end_setback (SbRows *rows, SbLog *log);

/* The times of the rows so far. */
SbTimeSpan sb_rows_time_span (const SbRows *rows);

/* Counts the row of `line` as left out in `log`; `column` is NULL or an index. */
void sb_rows_leave_out (SbLog *log, SbFaultKind kind, guint64 line, const char *column, const char *what);

/* The row that was read is kept: what stands aside in the one before goes into the sums. Once more at the end. */
void sb_rows_sum_asides (SbRows *rows);

/* Hands the values over to `log`, without the room not used; none when the rows were all too large. */
void sb_rows_finish (SbRows *rows, SbLog *log);
