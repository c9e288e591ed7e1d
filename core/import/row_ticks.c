/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "row_ticks.h"

#include "row_cells.h"

#include <math.h>

/* Half the range of the smallest counter: a shorter fall is no end of one. */
#define LEAST_FALL 32768.0

/* NULL for a clock time, or where no column is the time. */
static const SbRowColumn *
time_column (const SbRows *rows, SbConversionKind *kind)
{
  *kind = SB_CONVERT_NOTHING;
  for (guint i = 0; i < rows->n_columns; i++)
    if (rows->columns[i].channel == SB_CHANNEL_TIME && rows->conversions[i].kind != SB_CONVERT_CLOCK) {
      *kind = rows->conversions[i].kind;
      return &rows->columns[i];
    }
  return NULL;
}

double
sb_row_ticks_size (const SbRows *rows)
{
  SbConversionKind kind;
  const SbRowColumn *column = time_column (rows, &kind);
  if (column == NULL)
    return 0.0;
  /* Numbers of samples are kept as they are written. */
  return kind == SB_CONVERT_SAMPLES ? 1.0 : (column->scaled ? column->factor : 1.0) * pow (10.0, column->power_of_ten);
}

/* As a number of so many counts would be read: one rounding for the power of ten. */
static double
time_of (const SbRows *rows, double counts)
{
  SbConversionKind kind;
  const SbRowColumn *column = time_column (rows, &kind);
  if (kind == SB_CONVERT_SAMPLES)
    return counts;
  int power = column->power_of_ten;
  double value = power < 0 ? counts / pow (10.0, -power) : counts * pow (10.0, power);
  return column->scaled ? value * column->factor : value;
}

double
sb_row_ticks_shift (const SbRows *rows, double time)
{
  return rows->ticks.offset > 0 ? time_of (rows, sb_ticks_count (time, sb_row_ticks_size (rows)) + rows->ticks.offset)
                                : time;
}

void
sb_row_ticks_pass_over (SbRows *rows, const SbCells *cells)
{
  double time, size = rows->ticks.has_first || rows->n_rows > 0 ? 0.0 : sb_row_ticks_size (rows);
  if (size > 0 && sb_row_cells_time (rows, cells, &time))
    sb_ticks_pass_over (&rows->ticks, sb_ticks_count (time, size));
}

void
sb_row_ticks_replace_last (SbRows *rows)
{
  gsize last = rows->n_rows - 1;
  if (rows->ticks.rows.n_rows > last)
    sb_ticks_replace (&rows->ticks, sb_ticks_count (rows->values[SB_CHANNEL_TIME][last], sb_row_ticks_size (rows)));
}

gboolean
sb_row_ticks_begin_again (SbRows *rows, double written, guint64 line)
{
  SbTicks *ticks = &rows->ticks;
  double size = rows->n_rows >= SB_TICKS_LEAST_ROWS && rows->fall.n_rows == 0 ? sb_row_ticks_size (rows) : 0.0;
  double last = size > 0 ? sb_ticks_count (rows->last_time, size) - ticks->offset : 0.0;
  double counts = size > 0 ? sb_ticks_count (written, size) : 0.0;
  if (!(last - counts > LEAST_FALL))
    return FALSE;
  for (gsize row = (gsize) ticks->rows.n_rows; row < rows->n_rows; row++)
    sb_ticks_add (ticks, sb_ticks_count (rows->values[SB_CHANNEL_TIME][row], size));
  if (!sb_ticks_begin_again (ticks, counts))
    return FALSE;
  if (ticks->n_wraps == 1)
    rows->ticks_line = line;
  return TRUE;
}

void
sb_row_ticks_note (const SbRows *rows, SbLog *log)
{
  guint n = rows->ticks.n_wraps;
  if (n == 0)
    return;
  g_autofree char *more = n > 1 ? g_strdup_printf (", and %u more time%s", n - 1, n == 2 ? "" : "s") : g_strdup ("");
  sb_notes_take (log->notes, SB_NOTE_CLOCK,
                 g_strdup_printf ("the time is the count of a counter of %u bits that begins again, at line "
                                  "%" G_GUINT64_FORMAT "%s; it was followed, so that the times go on there as its "
                                  "steps do",
                                  rows->ticks.bits, rows->ticks_line, more));
}
