/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is left to do when all rows are there: what the whole of a channel shows, and the notes on it. */
#include "number_text.h"
#include "row_ticks.h"
#include "turns.h"

#include <math.h>

/* Notes are for people. */
#define MOST_JUMPS_TOLD 3
/* Rows before the last that its number is held against, and decimals that are worth it. */
#define ROWS_COMPARED 8
#define MOST_DECIMALS 15
/* Fewer rows show no rate; left-out rows and jitter move it. */
#define LEAST_ROWS_OF_RATE 8
#define RATES_ALIKE        0.2

static const char *
column_name (const SbLog *log, guint index)
{
  return ((const SbLogColumn *) log->columns->pdata[index])->name;
}

/* A counter that begins again unseen would be a wrong angle: no motor turns half round between two rows. */
static void
note_counter_jump (const SbRows *rows, SbLog *log, guint index)
{
  const SbConversion *conversion = &rows->conversions[index];
  const double *values = conversion->channel >= 0 ? rows->values[conversion->channel] : NULL;
  double half_turn = fabs (3.14159265358979 / conversion->factor), largest = 0.0;
  if (values == NULL || conversion->kind != SB_CONVERT_COUNTER || conversion->wrap_is_stated)
    return;
  for (gsize i = 1; i < rows->n_rows; i++)
    largest = MAX (largest, fabs (values[i] - values[i - 1]));
  if (largest > half_turn)
    sb_notes_take (log->notes, SB_NOTE_WRAP,
                   g_strdup_printf ("the counts of '%s' jump by %.0f from one row to the next; if the counter begins "
                                    "again, state after how many counts, else state 0 (in the import sheet, or "
                                    "wrap in a layout)",
                                    column_name (log, index), largest));
}

static void
note_setbacks (SbLog *log)
{
  if (log->setbacks->len == 0)
    return;
  const SbSetback *first = &g_array_index (log->setbacks, SbSetback, 0);
  g_autofree char *more
      = log->setbacks->len > 1 ? g_strdup_printf (", and at %u more places", log->setbacks->len - 1) : g_strdup ("");
  sb_notes_take (log->notes, SB_NOTE_CLOCK,
                 g_strdup_printf ("the clock is set back at line %" G_GUINT64_FORMAT " and goes on (%" G_GUINT64_FORMAT
                                  " rows whose times were there already, with other values)%s; figures that need "
                                  "rows from both sides are in doubt. If another recording begins there, cut the "
                                  "file before that line",
                                  first->line, first->n_rows, more));
}

/* Whole seconds, say, on rows that are milliseconds apart. */
static void
note_coarse_times (const SbRows *rows, SbLog *log)
{
  guint64 n = 0;
  for (guint i = 0; i < log->fault_groups->len; i++) {
    const SbFaultGroup *group = log->fault_groups->pdata[i];
    n += group->kind == SB_FAULT_TIME_REPEATED ? group->n : 0;
  }
  if (n > rows->n_rows)
    sb_notes_take (log->notes, SB_NOTE_TIMES,
                   g_strdup ("most rows say the same time as the one before and are left out: the times "
                             "are too coarse for them. Export them with more decimals, or state the "
                             "number of the sample and the sample rate"));
}

/* Whether a value, as it was written, has more decimals than that many. */
static gboolean
has_more_decimals (const SbRowColumn *column, double value, guint n_decimals)
{
  double written = (column->scaled ? value / column->factor : value) * pow (10.0, -column->power_of_ten);
  double scaled = written * pow (10.0, n_decimals);
  return fabs (scaled) < 1e12 && fabs (scaled - rint (scaled)) > 1e-6 * fmax (1.0, fabs (scaled) * 1e-6);
}

/* A file that was cut within its last number shows by that number's decimals alone. */
static void
note_cut_number (const SbRows *rows, SbLog *log)
{
  const SbRowColumn *column = &rows->columns[rows->n_columns - 1];
  gsize n = rows->n_rows;
  if (rows->cut_line == 0 || n < 2 || column->channel < 0 || rows->cut_decimals > MOST_DECIMALS
      || sb_row_lines_find (&rows->lines, n - 1) != rows->cut_line)
    return;
  const double *values = rows->values[column->channel];
  for (gsize i = n - 1; i > 0 && n - i <= ROWS_COMPARED; i--)
    if (has_more_decimals (column, values[i - 1], rows->cut_decimals)) {
      sb_notes_take (log->notes, SB_NOTE_CUT,
                     g_strdup_printf ("the last line, %" G_GUINT64_FORMAT ", has no line end, and its last number has "
                                      "fewer decimals than those before: if the file was cut there, that number is "
                                      "wrong. Copy or export the log again, or take the line out",
                                      rows->cut_line));
      return;
    }
}

static void
find_jumps (const SbRows *rows, SbLog *log)
{
  g_array_unref (log->jumps);
  log->jumps = sb_jumps_find (rows->values[SB_CHANNEL_TIME], rows->n_rows, &rows->lines);
  for (guint i = 0; i < MIN (log->jumps->len, MOST_JUMPS_TOLD); i++) {
    g_autofree char *text = sb_jump_text (&g_array_index (log->jumps, SbJump, i));
    sb_notes_take (log->notes, SB_NOTE_CLOCK,
                   g_strdup_printf ("%s: it was set, or nothing was logged for so long; a trial is "
                                    "what was logged on one side of it",
                                    text));
  }
  if (log->jumps->len > MOST_JUMPS_TOLD)
    sb_notes_take (log->notes, SB_NOTE_CLOCK,
                   g_strdup_printf ("the clock jumps ahead at %u more places", log->jumps->len - MOST_JUMPS_TOLD));
}

/* Times that are logged count; that something else was stated may mean that they are in another unit. */
static void
note_other_rate (const SbRows *rows, SbLog *log)
{
  gsize n = rows->n_rows;
  double stated_hz = log->layout->sample_rate_hz;
  if (rows->counts_samples || n < LEAST_ROWS_OF_RATE || !(stated_hz > 0) || log->jumps->len > 0)
    return;
  double rate_hz = (double) (n - 1 + log->n_rows_left_out)
                   / (log->channel[SB_CHANNEL_TIME][n - 1] - log->channel[SB_CHANNEL_TIME][0]);
  if (fabs (rate_hz / stated_hz - 1.0) <= RATES_ALIKE)
    return;
  char stated[G_ASCII_DTOSTR_BUF_SIZE], found[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (stated, sizeof stated, "%.4g", stated_hz);
  g_ascii_formatd (found, sizeof found, "%.4g", rate_hz);
  sb_notes_take (log->notes, SB_NOTE_TIMES,
                 sb_plain_sentence (g_strdup_printf (
                     "a sample rate of %s Hz is stated, and the times show one of %s Hz: the times count; "
                     "look whether they are in the unit that is taken for theirs",
                     stated, found)));
}

/* A clock without date that began again was taken to go on. */
static void
note_clock (const SbRows *rows, SbLog *log)
{
  guint n_hours = rows->clock.last.n_full_hours, n_days = rows->clock.last.n_midnights, n = n_hours + n_days;
  if (n == 0)
    return;
  const char *passed = n_hours == 0  ? "the time of day passes midnight"
                       : n_days == 0 ? "the minutes and seconds pass the full hour"
                                     : "the times pass the full hour or midnight";
  const char *next = n_hours == 0 ? "day" : n_days == 0 ? "hour" : "hour or day";
  g_autofree char *more = n > 1 ? g_strdup_printf (" (and %u more time%s)", n - 1, n == 2 ? "" : "s") : g_strdup ("");
  sb_notes_take (log->notes, SB_NOTE_REMARK,
                 g_strdup_printf ("%s at line %" G_GUINT64_FORMAT "%s and go%s on as of the next %s", passed,
                                  rows->clock_again_line, more, n_hours == 0 ? "es" : "", next));
}

/* An angle in a unit of its own that begins again after a turn would be a wrong velocity. */
static void
follow_turns (const SbRows *rows, SbLog *log, guint index)
{
  const SbConversion *conversion = &rows->conversions[index];
  gsize n;
  SbTurns turns = sb_conversion_scale (conversion, rows->values[conversion->channel], rows->n_rows, &n);
  if (turns == SB_TURNS_UNCLEAR)
    sb_notes_take (log->notes, SB_NOTE_WRAP,
                   g_strdup_printf ("the angle '%s' stays within one turn and jumps by more than half of it "
                                    "between two rows; a velocity derived from it is wrong there if the "
                                    "angle begins again after each turn. State after how much it does, or 0 "
                                    "when it does not (in the import sheet, or wrap in a layout)",
                                    column_name (log, index)));
  if (turns == SB_TURNS_BEGIN_AGAIN && n > 0)
    sb_notes_take (log->notes, SB_NOTE_REMARK,
                   g_strdup_printf ("the angle '%s' begins again after %s; it was followed through "
                                    "%" G_GSIZE_FORMAT " such jump%s, the shorter way round between two rows",
                                    column_name (log, index),
                                    conversion->wrap_is_stated ? "what was stated" : "each turn", n,
                                    n == 1 ? "" : "s"));
}

static void
finish_conversions (SbRows *rows, SbLog *log)
{
  if (rows->has_asides)
    sb_rows_sum_asides (rows);
  for (gsize i = 0; rows->row_rate_hz > 0 && i < rows->n_rows; i++)
    rows->values[SB_CHANNEL_TIME][i] /= rows->row_rate_hz;
  for (guint i = 0; i < rows->n_columns; i++) {
    const SbConversion *conversion = &rows->conversions[i];
    note_counter_jump (rows, log, i);
    if (conversion->channel >= 0) {
      sb_conversion_finish (conversion, rows->values[conversion->channel], rows->n_rows);
      follow_turns (rows, log, i);
    }
    if (rows->columns[i].aside >= 0)
      log->aside[rows->columns[i].aside] = sb_aside_sum_finish (&rows->summing[rows->columns[i].aside]);
  }
}

/* Of which column the row's value is too large once it is in SI; -1: of none. Those as written are looked at while they
 * are read. */
static int
too_large_in (const SbRows *rows, gsize row)
{
  for (guint i = 0; i < rows->n_columns; i++) {
    const SbConversion *conversion = &rows->conversions[i];
    gboolean finished = conversion->kind == SB_CONVERT_COUNTER || conversion->kind == SB_CONVERT_TRANSDUCER
                        || conversion->kind == SB_CONVERT_SAMPLES || fabs (conversion->after) > 1;
    if (conversion->channel >= 0 && finished && !(fabs (rows->values[conversion->channel][row]) <= SB_LARGEST_VALUE))
      return (int) i;
  }
  return -1;
}

static void
leave_large_out (const SbRows *rows, SbLog *log, gsize row, guint index)
{
  char value[G_ASCII_DTOSTR_BUF_SIZE];
  SbChannel channel = (SbChannel) rows->conversions[index].channel;
  g_ascii_formatd (value, sizeof value, "%.6g", rows->values[channel][row]);
  g_autofree char *what = g_strdup_printf ("%s %s is too large", value, sb_channel_unit (channel));
  sb_rows_leave_out (log, SB_FAULT_TOO_LARGE, sb_row_lines_find (&rows->lines, row), column_name (log, index), what);
}

static void
move_row (SbRows *rows, SbRowLines *lines, gsize from, gsize to)
{
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (rows->values[c] != NULL)
      rows->values[c][to] = rows->values[c][from];
  guint64 line = sb_row_lines_find (&rows->lines, from);
  lines->is_full = lines->is_full || line == 0;
  sb_row_lines_add (lines, to, line);
}

/* A count may be too large an angle by its counts per turn alone. Such rows are left out as those are whose cell is. */
static void
drop_large_rows (SbRows *rows, SbLog *log)
{
  gsize first = 0, kept = 0;
  while (first < rows->n_rows && too_large_in (rows, first) < 0)
    first++;
  if (first == rows->n_rows)
    return;
  SbRowLines lines = { 0 };
  for (gsize row = 0; row < rows->n_rows; row++) {
    int index = row < first ? -1 : too_large_in (rows, row);
    for (guint s = 0; s < log->setbacks->len; s++)
      if (g_array_index (log->setbacks, SbSetback, s).row == row)
        g_array_index (log->setbacks, SbSetback, s).row = kept;
    if (index >= 0)
      leave_large_out (rows, log, row, (guint) index);
    else
      move_row (rows, &lines, row, kept++);
  }
  sb_row_lines_clear (&rows->lines);
  rows->lines = lines;
  rows->n_rows = kept;
}

void
sb_rows_finish (SbRows *rows, SbLog *log)
{
  /* Pooled memory goes back whole. */
  gboolean roomy = rows->pool == NULL && rows->capacity - rows->n_rows > rows->n_rows / 8;
  sb_rows_end_setback (rows, log);
  note_cut_number (rows, log);
  note_setbacks (log);
  note_clock (rows, log);
  sb_row_ticks_note (rows, log);
  note_coarse_times (rows, log);
  finish_conversions (rows, log);
  drop_large_rows (rows, log);
  log->n_rows = rows->n_rows;
  find_jumps (rows, log);
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    double *values = g_steal_pointer (&rows->values[c]);
    if (values != NULL && roomy)
      values = g_realloc (values, MAX (rows->n_rows, 1) * sizeof (double));
    log->channel[c] = values;
  }
  note_other_rate (rows, log);
}
