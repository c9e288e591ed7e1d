/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_lines.h"

#include "comment.h"
#include "tables.h"

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
  lines->others = g_array_new (FALSE, FALSE, sizeof (guint64));
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
leave_titles_out (SbTableLines *lines, const SbRows *rows, SbLog *log)
{
  for (guint i = 0; i < lines->titles->len; i++) {
    g_autofree char *what = g_strdup_printf ("the row has 1 cell, the header %u", rows->n_columns);
    sb_rows_leave_out (log, SB_FAULT_CELL_COUNT, g_array_index (lines->titles, guint64, i), NULL, what);
  }
  g_array_set_size (lines->titles, 0);
}

static void
end_table (SbTableLines *lines, guint64 line)
{
  if (lines->end_line == 0)
    lines->end_line = line;
  g_array_set_size (lines->titles, 0);
  if (lines->n_others++ < MAX_OTHERS)
    g_array_append_val (lines->others, line);
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
  return sb_rows_time (rows, cells, &time) && time < rows->last_time;
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

/* Behind the table only the headers of others are of interest. */
static void
look_for_others (SbTableLines *lines, const SbRows *rows, SbCells *cells, const char *text, gsize length, guint64 line)
{
  gboolean after_blank = lines->gap_line > 0 && lines->gap_line + 1 == line;
  SbTableBreak at = { rows->delimiter, NULL, after_blank };
  if (begins_like_row (rows, text, length))
    return;
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
  else if (lines->below->len < MAX_HEADER_LINES)
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
sb_table_lines_pass_rows (SbTableLines *lines, const SbRows *rows, SbLog *log)
{
  leave_titles_out (lines, rows, log);
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
note_others (const SbTableLines *lines, SbLog *log)
{
  GString *where = g_string_new (NULL);
  for (guint i = 0; i < lines->others->len; i++)
    g_string_append_printf (where, "%s%" G_GUINT64_FORMAT, i > 0 ? ", " : "",
                            g_array_index (lines->others, guint64, i));
  if (lines->n_others > lines->others->len)
    g_string_append (where, ", …");
  g_ptr_array_add (log->notes,
                   g_strdup_printf ("the file goes on with %s (header at line %s), which %s not read; choose the table "
                                    "in the layout",
                                    lines->n_others == 1 ? "another table" : "other tables", where->str,
                                    lines->n_others == 1 ? "is" : "are"));
  g_string_free (where, TRUE);
}

void
sb_table_lines_finish (SbTableLines *lines, SbRows *rows, SbLog *log)
{
  leave_titles_out (lines, rows, log);
  if (lines->layout->table > 0)
    g_ptr_array_add (log->notes,
                     g_strdup_printf ("table %u of the file was read; %s before it", lines->layout->table + 1,
                                      lines->layout->table == 1 ? "one is" : "others are"));
  log->n_other_tables = lines->n_others;
  if (lines->n_others > 0)
    note_others (lines, log);
  if (log->n_repeated_headers > 0)
    g_ptr_array_add (log->notes,
                     g_strdup_printf ("the header is repeated on %" G_GUINT64_FORMAT " %s; they were passed "
                                      "over",
                                      log->n_repeated_headers, log->n_repeated_headers == 1 ? "line" : "lines"));
}
