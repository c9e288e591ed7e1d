/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include "dialect.h"
#include "number_text.h"
#include "row_cells.h"
#include "row_ticks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_CAPACITY 1024

void
sb_rows_init (SbRows *rows)
{
  *rows = (SbRows){ .last_time = -(double) INFINITY, .last_line = G_MAXUINT64 };
  for (int aside = 0; aside < SB_N_ASIDES; aside++)
    rows->waiting[aside] = (double) NAN;
}

void
sb_rows_clear (SbRows *rows)
{
  g_clear_pointer (&rows->columns, g_free);
  g_clear_pointer (&rows->conversions, g_free);
  g_clear_pointer (&rows->question, g_free);
  sb_row_lines_clear (&rows->lines);
  for (guint i = 0; i < rows->n_fallen; i++)
    g_free (rows->fallen[i]);
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    sb_column_free (rows->pool, rows->values[c]);
    rows->values[c] = NULL;
  }
}

void
sb_rows_grow (SbRows *rows, gsize n_expected)
{
  gsize capacity = MAX (MAX (2 * rows->capacity, FIRST_CAPACITY), n_expected);
  for (guint i = 0; i < rows->n_columns; i++) {
    int channel = rows->columns[i].channel;
    if (channel >= 0)
      rows->values[channel] = sb_column_resize (rows->pool, rows->values[channel], rows->n_rows, capacity);
  }
  if (rows->row_rate_hz > 0)
    rows->values[SB_CHANNEL_TIME]
        = sb_column_resize (rows->pool, rows->values[SB_CHANNEL_TIME], rows->n_rows, capacity);
  rows->capacity = capacity;
}

void
sb_rows_leave_out (SbLog *log, SbFaultKind kind, guint64 line, const char *column, const char *what)
{
  log->n_rows_left_out++;
  sb_log_add_fault (log, kind, line, column, "%s", what);
}

static char *
explain_count (const SbRows *rows, guint n_cells)
{
  return g_strdup_printf ("the row has %u %s, the header %u", n_cells, n_cells == 1 ? "cell" : "cells",
                          rows->n_columns);
}

/* The asides of the row that was read wait for the next one, which may take its place. */
static void
hold_asides (SbRows *rows)
{
  for (guint i = 0; i < rows->n_columns; i++) {
    int aside = rows->columns[i].aside;
    if (aside >= 0)
      rows->waiting[aside] = sb_conversion_apply_aside (&rows->conversions[i], rows->aside[aside]);
  }
}

void
sb_rows_sum_asides (SbRows *rows)
{
  for (int aside = 0; aside < SB_N_ASIDES; aside++)
    if (fabs (rows->waiting[aside]) <= SB_LARGEST_VALUE)
      sb_aside_sum_add (&rows->summing[aside], rows->waiting[aside]);
  hold_asides (rows);
}

/* With a decimal point in every locale: the same file gives the same words. */
static char *
explain_time (const SbRows *rows, double time, double last_time)
{
  char this[G_ASCII_DTOSTR_BUF_SIZE], last[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (this, sizeof this, "%.9g", time);
  g_ascii_formatd (last, sizeof last, "%.9g", last_time);
  return sb_plain_sentence (g_strdup_printf (rows->counts_samples ? "time does not increase (sample %s after sample %s)"
                                                                  : "time does not increase (%s s after %s s)",
                                             this, last));
}

/* Cells without the empty ones that follow the last column. */
static guint
count_cells (const SbRows *rows, const SbCells *cells)
{
  guint n = sb_cells_count (cells);
  while (n > rows->n_columns && *sb_cells_get (cells, n - 1, NULL) == '\0')
    n--;
  return n;
}

static void
leave_out_count (const SbRows *rows, SbLog *log, guint n_cells, guint64 line)
{
  if (rows->cut && n_cells < rows->n_columns) {
    g_autofree char *what
        = g_strdup_printf ("the file ends in this row, after %u of %u cells", n_cells, rows->n_columns);
    sb_rows_leave_out (log, SB_FAULT_CUT_ROW, line, NULL, what);
    return;
  }
  if (rows->open_quote) {
    sb_rows_leave_out (log, SB_FAULT_OPEN_QUOTE, line, NULL, "a quote is opened and not closed in this line");
    return;
  }
  g_autofree char *what = explain_count (rows, n_cells);
  sb_rows_leave_out (log, SB_FAULT_CELL_COUNT, line, NULL, what);
}

SbTimeSpan
sb_rows_time_span (const SbRows *rows)
{
  const double *times = rows->values[SB_CHANNEL_TIME];
  return (SbTimeSpan){ rows->n_rows > 0 ? times[0] : 0.0, rows->last_time, rows->n_rows,
                       rows->n_rows > 1 ? times[rows->n_rows - 2] : 0.0 };
}

void
sb_rows_leave_fallen_out (SbRows *rows, SbLog *log)
{
  for (guint i = 0; i < rows->n_fallen; i++) {
    sb_rows_leave_out (log, SB_FAULT_TIME_BACKWARD, rows->fallen_line[i], NULL, rows->fallen[i]);
    g_free (rows->fallen[i]);
  }
  rows->n_fallen = 0;
}

void
sb_rows_end_setback (SbRows *rows, SbLog *log)
{
  if (rows->setback.n_rows >= SB_SETBACK_ROWS && rows->n_rows > rows->setback.row)
    g_array_append_val (log->setbacks, rows->setback);
  rows->setback.n_rows = 0;
}

/* Rows may have been kept since the last one that contradicts: then another setback begins. */
static void
note_contradiction (SbRows *rows, SbLog *log, double time, guint64 line)
{
  /* A clock that is too coarse says the last time again: no way back. */
  gboolean goes_on = rows->setback.n_rows > 0 && rows->setback.row == rows->n_rows;
  if (!goes_on && !(time < rows->last_time))
    return;
  if (!sb_setback_contradicts (rows->values, rows->n_rows))
    return;
  if (!goes_on) {
    sb_rows_end_setback (rows, log);
    rows->setback = (SbSetback){ .row = rows->n_rows, .line = line };
  }
  rows->setback.n_rows++;
}

static void
take_clock (SbRows *rows, gboolean instead, guint64 line)
{
  if (instead)
    sb_clock_take_instead (&rows->clock);
  else
    sb_clock_take (&rows->clock);
  gboolean again = rows->clock.last.begun_again_s != 0;
  rows->clock_again_line = !again ? 0 : rows->clock_again_line == 0 ? line : rows->clock_again_line;
}

/* Place `row` of the values is that of `line` from now on, unless another takes it. */
static void
keep_row (SbRows *rows, SbLog *log, gsize row, guint64 line)
{
  sb_rows_leave_fallen_out (rows, log);
  rows->fall.n_rows = 0;
  if (rows->has_clock)
    take_clock (rows, row < rows->n_rows, line);
  rows->last_time = rows->values[SB_CHANNEL_TIME][row];
  sb_row_lines_add (&rows->lines, row, line);
}

/* The row that was read takes the place of the last one, whose time stood alone. */
static void
replace_last (SbRows *rows, SbLog *log, guint64 line)
{
  gsize last = rows->n_rows - 1;
  double time = rows->values[SB_CHANNEL_TIME][last + 1];
  char alone[G_ASCII_DTOSTR_BUF_SIZE], next[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (alone, sizeof alone, "%.9g", rows->last_time);
  g_ascii_formatd (next, sizeof next, "%.9g", time);
  const char *unit = rows->counts_samples ? "" : " s";
  g_autofree char *what = sb_plain_sentence (g_strdup_printf (
      "its time stands alone (%s%s, and the next row goes on at %s%s from the row before)", alone, unit, next, unit));
  sb_rows_leave_out (log, SB_FAULT_TIME_ALONE, sb_row_lines_find (&rows->lines, last), NULL, what);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (rows->values[c] != NULL)
      rows->values[c][last] = rows->values[c][last + 1];
  sb_row_ticks_replace_last (rows);
  hold_asides (rows);
  keep_row (rows, log, last, line);
}

/* A row whose time does not follow the last one's. TRUE when the time has started again. */
static gboolean
take_fallen (SbRows *rows, SbLog *log, double time, guint64 line)
{
  SbTimeSpan span = sb_rows_time_span (rows);
  SbFallStep step = sb_fall_take (&rows->fall, &span, time, line);
  if (step == SB_FALL_RESTARTS)
    return TRUE;
  if (step == SB_FALL_LAST_ALONE) {
    replace_last (rows, log, line);
    return FALSE;
  }
  note_contradiction (rows, log, time, line);
  if (step != SB_FALL_GOES_ON)
    sb_rows_leave_fallen_out (rows, log);
  g_autofree char *what = explain_time (rows, time, rows->last_time);
  if (step == SB_FALL_NONE) {
    sb_rows_leave_out (log, time < rows->last_time ? SB_FAULT_TIME_BACKWARD : SB_FAULT_TIME_REPEATED, line, NULL, what);
    return FALSE;
  }
  rows->fallen_line[rows->n_fallen] = line;
  rows->fallen[rows->n_fallen++] = g_steal_pointer (&what);
  return FALSE;
}

/* ";;" or "Run two", which parts a log and is no sample: no cell is filled, or a word stands where cells should. */
static gboolean
is_mark (const SbRows *rows, const SbCells *cells)
{
  guint n_filled = 0;
  for (guint i = 0; i < sb_cells_count (cells); i++) {
    gsize length;
    sb_text_trim (sb_cells_get (cells, i, &length), &length);
    n_filled += length > 0 ? 1 : 0;
  }
  if (n_filled == 0 || rows->n_columns == 1 || sb_cells_count (cells) > 1)
    return n_filled == 0;
  const char *text = sb_cells_get (cells, 0, NULL);
  while (g_ascii_ispunct (*text) || *text == ' ')
    text++;
  return !g_ascii_isdigit (*text);
}

/* A line of units none of which is known is a row of words. */
static void
note_words (const SbRows *rows, SbLog *log, const SbCells *cells, guint64 line)
{
  if (rows->n_rows > 0 || log->n_rows_left_out > 1)
    return;
  SbLineShape shape = sb_dialect_shape_of (cells, TRUE);
  if (!sb_dialect_is_names_row (cells, &shape))
    return;
  gsize length;
  const char *first = sb_cells_get (cells, 0, &length);
  g_autofree char *quoted = sb_text_quote (first, length);
  sb_notes_take (log->notes, SB_NOTE_UNKNOWN_UNITS,
                 g_strdup_printf ("line %" G_GUINT64_FORMAT
                                  ", the first of the rows, holds words alone (%s ...) and is "
                                  "left out: if they are units, none of them is known. Write ms, N·m or rad/s there, "
                                  "or state the units in the import sheet or a layout",
                                  line, quoted));
}

gboolean
sb_rows_add (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line)
{
  guint n_cells = count_cells (rows, cells);
  if (rows->row_rate_hz > 0 && is_mark (rows, cells))
    rows->n_no_samples++;
  if (n_cells != rows->n_columns) {
    leave_out_count (rows, log, n_cells, line);
    return FALSE;
  }
  if (rows->decimal == 0)
    sb_row_cells_learn_decimal (rows, cells);
  if (rows->n_rows == rows->capacity)
    sb_rows_grow (rows, 0);
  if (!sb_row_cells_read (rows, log, cells, line)) {
    sb_row_ticks_pass_over (rows, cells);
    note_words (rows, log, cells, line);
    return FALSE;
  }
  /* Samples that were left out took their time, too. */
  if (rows->row_rate_hz > 0)
    rows->values[SB_CHANNEL_TIME][rows->n_rows] = (double) (rows->n_rows + log->n_rows_left_out - rows->n_no_samples);
  double written = rows->values[SB_CHANNEL_TIME][rows->n_rows], time = sb_row_ticks_shift (rows, written);
  if (time < rows->last_time && sb_row_ticks_begin_again (rows, written, line))
    time = sb_row_ticks_shift (rows, written);
  rows->values[SB_CHANNEL_TIME][rows->n_rows] = time;
  if (!(time > rows->last_time))
    return take_fallen (rows, log, time, line);
  if (rows->has_asides)
    sb_rows_sum_asides (rows);
  keep_row (rows, log, rows->n_rows, line);
  rows->n_rows++;
  return FALSE;
}
