/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"
#include "number.h"
#include "number_style.h"
#include "number_text.h"
#include "number_unit.h"
#include "overload.h"
#include "row_number.h"
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

/* The first number with a sign that shows what it is tells for the file. */
static void
learn_decimal (SbRows *rows, const SbCells *cells)
{
  SbNumberStyle style = { 0 };
  char thousands;
  for (guint i = 0; i < MIN (rows->n_columns, sb_cells_count (cells)); i++) {
    gsize length;
    const char *text = sb_cells_get (cells, i, &length);
    text = sb_text_trim (text, &length);
    if (rows->columns[i].channel >= 0)
      sb_number_style_add (&style, text, length, i);
  }
  int open = sb_number_style_decide (&style, rows->delimiter, &rows->decimal, &thousands);
  if (open >= 0)
    rows->question = g_strdup (style.example[open]);
  else if (rows->thousands == '\0' && rows->decimal != '\0')
    rows->thousands = thousands;
}

static char *
explain_count (const SbRows *rows, guint n_cells)
{
  return g_strdup_printf ("the row has %u %s, the header %u", n_cells, n_cells == 1 ? "cell" : "cells",
                          rows->n_columns);
}

static char *
read_clock (SbRows *rows, const char *text, gsize length, double *value)
{
  SbClockTime time;
  g_autofree char *quoted = sb_text_quote (text, length);
  if (!sb_clock_time_read (text, length, &time))
    return g_strdup_printf ("%s is no clock time", quoted);
  if (!sb_clock_seconds (&rows->clock, &time, value))
    return g_strdup_printf ("%s is written with or without date, zone or hours, unlike the first time", quoted);
  return NULL;
}

/* NULL when the cell is a number or clock time, else what is wrong with it. */
static char *
read_cell (SbRows *rows, guint index, const char *text, gsize length, double *value, SbFaultKind *kind)
{
  const SbRowColumn *column = &rows->columns[index];
  text = sb_text_trim (text, &length);
  *kind = SB_FAULT_EMPTY_CELL;
  if (length == 0)
    return g_strdup ("the cell is empty");
  *kind = SB_FAULT_NO_NUMBER;
  if (rows->conversions[index].kind == SB_CONVERT_CLOCK)
    return read_clock (rows, text, length, value);
  const SbUnit *unit = rows->conversions[index].unit, *other = NULL;
  gboolean is_number = sb_row_number_read (rows, text, length, index, value, &other);
  if (is_number && column->scaled)
    *value *= column->factor;
  if (is_number && fabs (*value) <= SB_LARGEST_VALUE)
    return NULL;
  g_autofree char *quoted = sb_text_quote (text, length);
  double written = 0.0;
  if (sb_overload_is_word (text, length)
      || (sb_row_number_plain (rows, text, length, 0, &written) && sb_overload_is_number (written))) {
    *kind = SB_FAULT_OVERLOAD;
    return g_strdup_printf ("%s is an overload mark of an instrument", quoted);
  }
  if (other != NULL && unit != NULL)
    return g_strdup_printf ("%s is in %s, the column in %s", quoted, other->name, unit->name);
  *kind = is_number ? SB_FAULT_TOO_LARGE : SB_FAULT_NO_NUMBER;
  return g_strdup_printf (is_number ? "%s is too large" : "%s is no number", quoted);
}

/* A circumstance that was not written down costs no row. */
static void
read_aside (SbRows *rows, guint index, const char *text, gsize length)
{
  double *value = &rows->aside[rows->columns[index].aside];
  const SbUnit *other;
  text = sb_text_trim (text, &length);
  if (!sb_row_number_read (rows, text, length, index, value, &other))
    *value = (double) NAN;
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

static const char *
column_name (const SbLog *log, guint index)
{
  return ((const SbLogColumn *) log->columns->pdata[index])->name;
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

gboolean
sb_rows_time (SbRows *rows, const SbCells *cells, double *time_s)
{
  for (guint i = 0; i < MIN (rows->n_columns, sb_cells_count (cells)); i++) {
    SbFaultKind kind;
    gsize length;
    const char *text = sb_cells_get (cells, i, &length);
    if (rows->columns[i].channel != SB_CHANNEL_TIME)
      continue;
    g_autofree char *what = read_cell (rows, i, text, length, time_s, &kind);
    if (what == NULL)
      *time_s = sb_row_ticks_shift (rows, *time_s);
    return what == NULL;
  }
  return FALSE;
}

static void
note_thousands (SbLog *log, guint column, const char *text, gsize length, guint64 line)
{
  g_autofree char *quoted = sb_text_quote (text, length);
  g_ptr_array_add (log->notes, g_strdup_printf ("line %" G_GUINT64_FORMAT ", column '%s': %s has its thousands apart, "
                                                "which no number before it has; this and those behind are read so",
                                                line, column_name (log, column), quoted));
}

/* What the file ends in, for sb_rows_finish() to weigh: "7.1" may have been 7.125, and "2e-0" 2e-03. A number that its
 * unit follows is whole. */
static void
note_last_number (SbRows *rows, const char *text, gsize length, guint64 line)
{
  text = sb_text_trim (text, &length);
  const SbUnit *unit;
  if (sb_number_before_unit (text, length, &unit) > 0)
    return;
  const char *end = text + length, *exponent = text;
  while (exponent < end && *exponent != 'e' && *exponent != 'E')
    exponent++;
  const char *sign = memchr (text, rows->decimal != 0 ? rows->decimal : '.', length);
  rows->cut_line = line;
  rows->cut_decimals = sign != NULL ? (guint) (end - sign - 1) : 0;
  if (exponent < end)
    rows->cut_decimals = end - exponent > 2 && g_ascii_isdigit (end[-2]) ? G_MAXUINT : 0;
}

/* FALSE when a cell is none; the row is left out then. */
static gboolean
read_cells (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line)
{
  for (guint i = 0; i < rows->n_columns; i++) {
    const SbRowColumn *column = &rows->columns[i];
    SbFaultKind kind;
    gsize length;
    const char *text = sb_cells_get (cells, i, &length);
    char before = rows->late_thousands;
    g_autofree char *what = NULL;
    if (column->aside >= 0)
      read_aside (rows, i, text, length);
    if (column->channel >= 0)
      what = read_cell (rows, i, text, length, &rows->values[column->channel][rows->n_rows], &kind);
    if (before != rows->late_thousands)
      note_thousands (log, i, text, length, line);
    if (column->channel < 0)
      continue;
    gboolean last = rows->cut && i + 1 == rows->n_columns;
    /* "3." at the end of the file may have been 3.9. */
    if (what == NULL && !(last && length > 0 && (text[length - 1] == '.' || text[length - 1] == ','))) {
      if (last && rows->conversions[i].kind != SB_CONVERT_CLOCK)
        note_last_number (rows, text, length, line);
      continue;
    }
    gboolean cut = last && (what == NULL || kind != SB_FAULT_TOO_LARGE);
    sb_rows_leave_out (log, cut ? SB_FAULT_CUT_ROW : kind, line, column_name (log, i),
                       cut ? "the file ends in this cell" : what);
    return FALSE;
  }
  return TRUE;
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
take_clock (SbRows *rows, guint64 line)
{
  gint64 before_s = rows->clock.begun_again_s;
  sb_clock_take (&rows->clock);
  if (rows->clock.begun_again_s != before_s && rows->clock_again_line == 0)
    rows->clock_again_line = line;
}

/* Place `row` of the values is that of `line` from now on, unless another takes it. */
static void
keep_row (SbRows *rows, SbLog *log, gsize row, guint64 line)
{
  sb_rows_leave_fallen_out (rows, log);
  rows->fall.n_rows = 0;
  if (rows->has_clock)
    take_clock (rows, line);
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
    learn_decimal (rows, cells);
  if (rows->n_rows == rows->capacity)
    sb_rows_grow (rows, 0);
  if (!read_cells (rows, log, cells, line))
    return FALSE;
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
