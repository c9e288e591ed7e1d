/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_lines.h"

#include "comment.h"
#include "row_cells.h"
#include "row_ticks.h"
#include "tables.h"

#include <math.h>
#include <string.h>

/* Titles have few lines; a file of nothing else has faulty rows. */
#define MAX_TITLES 8
#define MAX_OTHERS 16
/* Those kept to know a repeated header by. */
#define MAX_HEADER_LINES 8

void
sb_table_lines_init (SbTableLines *lines, SbLayout *layout)
{
  *lines = (SbTableLines){ .layout = layout };
  lines->below = g_ptr_array_new_with_free_func (g_free);
  lines->titles = g_array_new (FALSE, FALSE, sizeof (guint64));
  lines->others = g_array_new (FALSE, FALSE, sizeof (SbOtherTable));
}

void
sb_table_lines_clear (SbTableLines *lines)
{
  g_free (lines->header);
  g_ptr_array_unref (lines->below);
  g_array_unref (lines->titles);
  g_array_unref (lines->others);
}

/* Words that turned out to be no title of another table: rows that cannot be read. */
static void
leave_titles_out (SbTableLines *lines, SbRows *rows, SbLog *log)
{
  /* Where there is one column, a word may stand for its number. */
  if (rows->n_columns > 1)
    rows->n_no_samples += lines->titles->len;
  for (guint i = 0; i < lines->titles->len; i++) {
    g_autofree char *what = g_strdup_printf ("the row has 1 cell, the header %u", rows->n_columns);
    sb_rows_leave_out (log, SB_FAULT_CELL_COUNT, g_array_index (lines->titles, guint64, i), NULL, what);
  }
  g_array_set_size (lines->titles, 0);
}

/* Another table begins; `line` is as in SbOtherTable. */
static void
add_other (SbTableLines *lines, SbOtherTable other)
{
  if (lines->end_line == 0)
    lines->end_line = other.line;
  g_array_set_size (lines->titles, 0);
  lines->same_columns = FALSE;
  lines->span = (SbTimeSpan){ 0 };
  lines->fall = (SbFall){ 0 };
  if (lines->n_others++ < MAX_OTHERS)
    g_array_append_val (lines->others, other);
}

static void
end_table (SbTableLines *lines, guint64 line)
{
  add_other (lines, (SbOtherTable){ .line = line });
}

/* The rows of `fall` are the first of another recording. */
static void
begin_recording (SbTableLines *lines, const SbRows *rows, SbTimeSpan before, SbFall fall)
{
  double count = sb_row_ticks_size (rows), offset = rows->ticks.offset;
  if (count > 0) {
    before.first = before.first / count - offset;
    before.last = before.last / count - offset;
  }
  guint bits = count > 0 ? sb_time_span_wrap_bits (&before, fall.time / count - offset) : 0;
  add_other (lines, (SbOtherTable){ fall.line, fall.n_rows, TRUE, bits });
  lines->same_columns = TRUE;
  lines->span = (SbTimeSpan){ fall.time, fall.last, fall.n_rows, fall.time };
}

void
sb_table_lines_restart (SbTableLines *lines, SbRows *rows)
{
  for (guint i = 0; i < rows->n_fallen; i++)
    g_free (rows->fallen[i]);
  rows->n_fallen = 0;
  begin_recording (lines, rows, sb_rows_time_span (rows), rows->fall);
}

/* A row behind the table. */
static void
count_row_of_other (SbTableLines *lines, SbRows *rows, SbCells *cells, const char *text, gsize length, guint64 line)
{
  double time = 0.0;
  if (lines->n_others == 0) {
    /* The layout's last line was the last before the time starts again. */
    sb_cells_split (cells, text, length, rows->delimiter);
    if (!sb_row_cells_time (rows, cells, &time))
      return;
    begin_recording (lines, rows, sb_rows_time_span (rows), (SbFall){ .line = line, .time = time, .last = time });
    lines->span = (SbTimeSpan){ 0 };
  }
  SbOtherTable *other = lines->n_others == lines->others->len
                            ? &g_array_index (lines->others, SbOtherTable, lines->others->len - 1)
                            : NULL;
  if (other != NULL)
    other->n_rows++;
  if (!lines->same_columns)
    return;
  sb_cells_split (cells, text, length, rows->delimiter);
  if (!sb_row_cells_time (rows, cells, &time))
    return;
  SbFallStep step = sb_fall_take (&lines->fall, &lines->span, time, line);
  if (step == SB_FALL_LAST_ALONE)
    sb_time_span_replace (&lines->span, time);
  else if (step != SB_FALL_RESTARTS)
    sb_time_span_add (&lines->span, time);
  if (step != SB_FALL_RESTARTS)
    return;
  if (other != NULL)
    other->n_rows -= lines->fall.n_rows;
  begin_recording (lines, rows, lines->span, lines->fall);
}

static gboolean
is_same (const char *kept, const char *text, gsize length)
{
  return kept != NULL && strlen (kept) == length && memcmp (kept, text, length) == 0;
}

/* More names or the units, right behind a repeated header. */
static gboolean
is_below_header (const SbTableLines *lines, const char *text, gsize length, guint64 line)
{
  for (guint i = 0; lines->restart_line == line && i < lines->below->len; i++)
    if (is_same (g_ptr_array_index (lines->below, i), text, length))
      return TRUE;
  return FALSE;
}

/* Digits begin a row, quoted or not: no closer look is needed. */
static gboolean
begins_like_row (const SbRows *rows, const char *text, gsize length)
{
  gsize i = 0;
  while (i < length && (text[i] == ' ' || text[i] == '\t' || text[i] == rows->quote))
    i++;
  return i < length && (g_ascii_isdigit (text[i]) || text[i] == '-' || text[i] == '.' || text[i] == rows->delimiter);
}

/* A row before the last one, right behind a repeated header: the test was started again. */
static gboolean
restarts (const SbTableLines *lines, SbRows *rows, SbCells *cells, const char *text, gsize length, guint64 line)
{
  double time;
  if (lines->restart_line != line || rows->n_rows == 0)
    return FALSE;
  sb_cells_split (cells, text, length, rows->delimiter);
  return sb_row_cells_time (rows, cells, &time) && time < rows->last_time;
}

static void
pass_repeated_header (SbTableLines *lines, SbLog *log, guint64 line)
{
  log->n_repeated_headers++;
  lines->restart_line = line + 1;
}

static SbTake
take_words (SbTableLines *lines, SbRows *rows, SbLog *log, SbCells *cells, const char *text, gsize length, guint64 line)
{
  gboolean after_blank = lines->gap_line > 0 && lines->gap_line + 1 == line;
  SbTableBreak at = { rows->delimiter, lines->header, after_blank };
  switch (sb_tables_line_kind (cells, &at, text, length)) {
  case SB_LINE_IS_HEADER:
    pass_repeated_header (lines, log, line);
    return SB_TAKE_AS_NOTHING;
  case SB_LINE_BEGINS_ANOTHER:
    end_table (lines, line);
    return SB_TAKE_AS_NOTHING;
  case SB_LINE_IS_TITLE:
    if (lines->titles->len == MAX_TITLES)
      return SB_TAKE_AS_ROW;
    g_array_append_val (lines->titles, line);
    lines->gap_line = line;
    return SB_TAKE_AS_NOTHING;
  case SB_LINE_IS_ROW:
    return SB_TAKE_AS_ROW;
  }
  g_assert_not_reached ();
}

/* Behind the table only the headers of others and their rows are of interest. */
static void
look_for_others (SbTableLines *lines, SbRows *rows, SbCells *cells, const char *text, gsize length, guint64 line)
{
  gboolean after_blank = lines->gap_line > 0 && lines->gap_line + 1 == line;
  SbTableBreak at = { rows->delimiter, NULL, after_blank };
  if (begins_like_row (rows, text, length)) {
    count_row_of_other (lines, rows, cells, text, length, line);
    return;
  }
  SbLineKind kind = sb_tables_line_kind (cells, &at, text, length);
  if (kind == SB_LINE_BEGINS_ANOTHER)
    end_table (lines, line);
  if (kind == SB_LINE_IS_TITLE)
    lines->gap_line = line;
}

/* Lines before the rows: the header and the units are kept, and what the preamble says of the log. */
static void
take_before_rows (SbTableLines *lines, SbLog *log, const char *text, gsize length, guint64 line)
{
  if (line == lines->layout->header_line)
    lines->header = g_strndup (text, length);
  else if (lines->layout->header_line == 0 || line < lines->layout->header_line)
    sb_preamble_read (log, text, length, line);
  else if (lines->below->len < MAX_HEADER_LINES && (length == 0 || !g_ascii_isdigit (*text)))
    g_ptr_array_add (lines->below, g_strndup (text, length));
}

SbTake
sb_table_lines_take (SbTableLines *lines, SbRows *rows, SbLog *log, SbCells *cells, const char *text, gsize length,
                     guint64 line, gboolean blank)
{
  if (blank) {
    lines->gap_line = line;
    if (lines->restart_line == line)
      lines->restart_line = line + 1;
    return SB_TAKE_AS_NOTHING;
  }
  if (line < lines->layout->first_line) {
    take_before_rows (lines, log, text, length, line);
    return SB_TAKE_AS_NOTHING;
  }
  if (lines->end_line > 0 || line > rows->last_line) {
    lines->end_line = lines->end_line > 0 ? lines->end_line : line;
    look_for_others (lines, rows, cells, text, length, line);
    return SB_TAKE_AS_NOTHING;
  }
  if (restarts (lines, rows, cells, text, length, line)) {
    log->n_repeated_headers--;
    end_table (lines, line - 1);
    lines->same_columns = TRUE;
    count_row_of_other (lines, rows, cells, text, length, line);
    return SB_TAKE_AS_NOTHING;
  }
  if (is_below_header (lines, text, length, line)) {
    lines->restart_line = line + 1;
    return SB_TAKE_AS_NOTHING;
  }
  SbTake take = begins_like_row (rows, text, length) && !is_same (lines->header, text, length)
                    ? SB_TAKE_AS_ROW
                    : take_words (lines, rows, log, cells, text, length, line);
  if (take == SB_TAKE_AS_ROW)
    leave_titles_out (lines, rows, log);
  return take;
}

void
sb_table_lines_pass_rows (SbTableLines *lines, SbRows *rows, SbLog *log)
{
  leave_titles_out (lines, rows, log);
  sb_rows_leave_fallen_out (rows, log);
  rows->fall.n_rows = 0;
}

void
sb_table_lines_pass_comment (SbTableLines *lines, guint64 line)
{
  if (lines->gap_line > 0 && lines->gap_line + 1 == line)
    lines->gap_line = line;
  if (lines->restart_line == line)
    lines->restart_line = line + 1;
}

static void
note_headers (const SbTableLines *lines, guint64 n_headers, SbLog *log)
{
  g_autoptr (GString) where = g_string_new (NULL);
  for (guint i = 0; i < lines->others->len; i++) {
    const SbOtherTable *other = &g_array_index (lines->others, SbOtherTable, i);
    if (!other->restarts)
      g_string_append_printf (where, "%s%" G_GUINT64_FORMAT, where->len > 0 ? ", " : "", other->line);
  }
  if (lines->n_others > lines->others->len)
    g_string_append (where, ", …");
  sb_notes_take (log->notes, SB_NOTE_OTHER_TABLES,
                 g_strdup_printf ("the file goes on with %s (header at line %s), which %s not read; choose the table "
                                  "in the layout",
                                  n_headers == 1 ? "another table" : "other tables", where->str,
                                  n_headers == 1 ? "is" : "are"));
}

static void
note_wrap (const SbOtherTable *other, SbLog *log)
{
  const char *counts = sb_counters[0].bits == other->wrap_bits ? sb_counters[0].words : sb_counters[1].words;
  sb_notes_take (log->notes, SB_NOTE_OTHER_TABLES,
                 g_strdup_printf ("the time falls at line %" G_GUINT64_FORMAT
                                  " as a counter of %u bits does that begins again; if the rows from "
                                  "there on belong to the same recording, add %s to their times as "
                                  "written and read the log again",
                                  other->line, other->wrap_bits, counts));
}

/* Where the time starts again, and how many rows each recording has. */
static void
note_recordings (const SbTableLines *lines, const SbRows *rows, guint64 n_recordings, SbLog *log)
{
  g_autoptr (GString) where = g_string_new (NULL);
  guint64 n_here = rows->n_rows + log->n_rows_left_out;
  for (guint i = 0; i < lines->others->len; i++) {
    const SbOtherTable *other = &g_array_index (lines->others, SbOtherTable, i);
    if (!other->restarts)
      continue;
    log->n_rows_of_others += other->n_rows;
    g_string_append_printf (where, "%sline %" G_GUINT64_FORMAT " (table %u, %" G_GUINT64_FORMAT " row%s)",
                            where->len > 0 ? ", " : "", other->line, lines->layout->table + i + 2, other->n_rows,
                            other->n_rows == 1 ? "" : "s");
    if (other->wrap_bits > 0)
      note_wrap (other, log);
  }
  if (lines->n_others > lines->others->len)
    g_string_append (where, ", …");
  sb_notes_take (log->notes, SB_NOTE_OTHER_TABLES,
                 g_strdup_printf ("the file goes on with %s, which %s not read: the time starts again at %s. The "
                                  "recording that is read has %" G_GUINT64_FORMAT " row%s; choose the table in the "
                                  "layout to read another",
                                  n_recordings == 1 ? "another recording" : "other recordings",
                                  n_recordings == 1 ? "is" : "are", where->str, n_here, n_here == 1 ? "" : "s"));
}

static void
note_others (const SbTableLines *lines, const SbRows *rows, SbLog *log)
{
  guint64 n_recordings = 0;
  for (guint i = 0; i < lines->others->len; i++)
    n_recordings += g_array_index (lines->others, SbOtherTable, i).restarts ? 1 : 0;
  if (n_recordings > 0)
    note_recordings (lines, rows, n_recordings, log);
  if (n_recordings < lines->others->len)
    note_headers (lines, lines->n_others - n_recordings, log);
}

void
sb_table_lines_finish (SbTableLines *lines, SbRows *rows, SbLog *log)
{
  leave_titles_out (lines, rows, log);
  sb_rows_leave_fallen_out (rows, log);
  if (lines->layout->table > 0)
    sb_notes_take (log->notes, SB_NOTE_REMARK,
                   g_strdup_printf ("table %u of the file was read; %s before it", lines->layout->table + 1,
                                    lines->layout->table == 1 ? "one is" : "others are"));
  log->end_line = lines->end_line;
  log->n_other_tables = lines->n_others;
  if (lines->n_others > 0)
    note_others (lines, rows, log);
  if (log->n_repeated_headers > 0)
    sb_notes_take (log->notes, SB_NOTE_REMARK,
                   g_strdup_printf ("the header is repeated on %" G_GUINT64_FORMAT " %s; they were passed "
                                    "over",
                                    log->n_repeated_headers, log->n_repeated_headers == 1 ? "line" : "lines"));
}
