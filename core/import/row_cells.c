/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "row_cells.h"

#include "number.h"
#include "number_style.h"
#include "number_text.h"
#include "number_unit.h"
#include "overload.h"
#include "row_number.h"
#include "row_ticks.h"

#include <math.h>
#include <string.h>

static const char *
column_name (const SbLog *log, guint index)
{
  return ((const SbLogColumn *) log->columns->pdata[index])->name;
}

/* The first number with a sign that shows what it is tells for the file. */
void
sb_row_cells_learn_decimal (SbRows *rows, const SbCells *cells)
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
read_clock (SbRows *rows, const char *text, gsize length, double *value)
{
  SbClockTime time;
  g_autofree char *quoted = sb_text_quote (text, length);
  if (!sb_clock_time_read (text, length, &time))
    return g_strdup_printf ("%s is no clock time", quoted);
  if (!sb_clock_seconds (&rows->clock, &time, value))
    return g_strdup_printf ("%s is written with or without date, zone or hours, unlike the others", quoted);
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

gboolean
sb_row_cells_time (SbRows *rows, const SbCells *cells, double *time_s)
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
  sb_notes_take (log->notes, SB_NOTE_REMARK,
                 g_strdup_printf ("line %" G_GUINT64_FORMAT ", column '%s': %s has its thousands apart, "
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
gboolean
sb_row_cells_read (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line)
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
