/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The data rows of one log while it is read: what each column is, and the values so far.
 *
 * Two ways lead in: sb_rows_add for cells split by libcsv, which says what is wrong with a row, and sb_plain_rows_read
 * (plain_rows.h) for regular rows straight from the bytes. Both convert by the same number.h and keep the same rows.
 */
#pragma once

#include "cells.h"
#include "column_memory.h"
#include "log_build.h"
#include "unit.h"

/* What is larger, in SI, is no measurement but a fault of the log; squares and sums of what is kept stay finite. */
#define SB_LARGEST_VALUE 1e100

typedef struct {
  int channel;      /* SbChannel, or -1: read past */
  int power_of_ten; /* SI value = written * 10^power_of_ten, in one rounding, */
  gboolean scaled;  /* and then times factor */
  double factor;
} SbRowColumn;

typedef struct {
  SbRowColumn *columns;
  guint n_columns;
  char delimiter;
  char decimal; /* 0 until a row has shown it */
  double *values[SB_N_CHANNELS];
  gsize n_rows;
  gsize capacity;
  double last_time;
  SbColumnPool *pool; /* where the columns come from; borrowed, may be NULL */
} SbRows;

void sb_rows_init (SbRows *rows);
void sb_rows_clear (SbRows *rows);

/* Makes room for at least one row more, or for `n_expected` in all when that is more. */
void sb_rows_grow (SbRows *rows, gsize n_expected);

/* Adds the row of `line`, or counts it as left out in `log` with the reason. */
void sb_rows_add (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line);

/* Counts the row of `line` as left out in `log`; `column` is NULL or an index. */
void sb_rows_leave_out (SbLog *log, SbFaultKind kind, guint64 line, const char *column, const char *what);

/* Hands the values over to `log`, without the room not used. */
void sb_rows_finish (SbRows *rows, SbLog *log);
