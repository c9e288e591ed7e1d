/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_reader.h"
#include "comment.h"
#include "dialect.h"
#include "line.h"
#include "plain_rows.h"
#include "table_lines.h"

#include <string.h>

#define FIRST_CAPACITY 4096
/* Fewer bytes say too little about the length of a row. */
#define BYTES_TO_ESTIMATE_FROM 65536

struct _SbLogReader {
  SbLog *log;
  SbRows rows;
  SbTableLines table;
  SbCells *cells;
  guint64 size_hint;

  char *buffer;
  gsize length, capacity;

  guint64 line;           /* lines read so far */
  gboolean skipping;      /* inside a line longer than SB_LINE_MAX, ... */
  gboolean skips_comment; /* ... which is a comment */

  guint64 n_zeros; /* bytes of zero that the file seems to end in: nothing else may follow */
};

SbLogReader *
sb_log_reader_new (const char *path, SbLayout *layout, guint64 size_hint, SbColumnPool *pool, GError **error)
{
  g_autoptr (SbLogReader) reader = g_new0 (SbLogReader, 1);
  reader->log = sb_log_new (path);
  reader->log->layout = sb_layout_ref (layout);
  reader->log->header_line = layout->header_line;
  reader->log->column_pool = pool != NULL ? sb_column_pool_ref (pool) : NULL;
  reader->cells = sb_cells_new ();
  sb_cells_set_quote (reader->cells, layout->quote);
  reader->size_hint = size_hint;
  sb_rows_init (&reader->rows);
  sb_table_lines_init (&reader->table, layout);
  reader->rows.pool = pool;
  if (!sb_rows_set_layout (&reader->rows, reader->log, layout, error))
    return NULL;
  if (layout->lone_line > 0)
    sb_rows_leave_out (reader->log, SB_FAULT_TIME_ALONE, layout->lone_line, NULL,
                       "its time stands alone, ahead of the rows behind it");
  return g_steal_pointer (&reader);
}

/* Before the bytes that were read are moved or gone. */
static void
settle_digest (const SbLogReader *reader)
{
  if (reader->rows.digest != NULL)
    sb_digest_settle (reader->rows.digest);
}

void
sb_log_reader_free (SbLogReader *reader)
{
  if (reader == NULL)
    return;
  settle_digest (reader);
  sb_rows_clear (&reader->rows); /* before the log, which holds the pool and the layout */
  sb_table_lines_clear (&reader->table);
  g_clear_pointer (&reader->log, sb_log_unref);
  sb_cells_free (reader->cells);
  g_free (reader->buffer);
  g_free (reader);
}

void
sb_log_reader_set_way (SbLogReader *reader, SbRowsWay way)
{
  reader->rows.way = way;
}

void
sb_log_reader_set_digest (SbLogReader *reader, SbDigest *digest)
{
  reader->rows.digest = digest;
}

char *
sb_log_reader_get_room (SbLogReader *reader, gsize n_bytes)
{
  gsize wanted = reader->length + n_bytes + SB_PLAIN_PADDING;
  if (wanted > reader->capacity) {
    reader->capacity = MAX (MAX (wanted, 2 * reader->capacity), FIRST_CAPACITY);
    reader->buffer = g_realloc (reader->buffer, reader->capacity);
  }
  return reader->buffer + reader->length;
}

/* One allocation per column is enough when the first block is like the rest. */
static void
reserve_rows (SbLogReader *reader, const char *from, const char *end)
{
  gsize n_bytes = (gsize) (end - from);
  if (reader->rows.capacity > 0 || n_bytes < BYTES_TO_ESTIMATE_FROM || reader->size_hint < n_bytes)
    return;
  gsize n_lines = 1;
  for (const char *p = from; (p = memchr (p, '\n', (gsize) (end - p))) != NULL; p++)
    n_lines++;
  double n_rows = (double) n_lines / (double) n_bytes * (double) reader->size_hint;
  sb_rows_grow (&reader->rows, (gsize) (n_rows * 1.02) + 64);
}

static gboolean
fail_as_binary (const SbLogReader *reader, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
               "%s, line %" G_GUINT64_FORMAT ": this is no text (it has a zero byte). Export the log as CSV text and "
               "read that.",
               reader->log->name, reader->line);
  return FALSE;
}

/* TRUE when all of the bytes are zero. */
static gboolean
is_all_zero (const char *bytes, gsize n)
{
  return n == 0 || (bytes[0] == '\0' && memcmp (bytes, bytes + 1, n - 1) == 0);
}

/* Loggers that reserve their file before they write leave zeros at its end: no text, and counted as stored. */
static void
count_zeros (SbLogReader *reader, gsize n)
{
  SbEncoding encoding = reader->log->layout->encoding;
  gboolean wide = encoding == SB_ENCODING_UTF16_LE || encoding == SB_ENCODING_UTF16_BE;
  reader->n_zeros += wide ? 2 * n : n;
}

/* Takes zeros up to the end of the buffer out of it; `rest` is the line they are in. */
static void
take_zeros (SbLogReader *reader, const char *rest)
{
  const char *end = reader->buffer + reader->length;
  const char *zero = memchr (rest, '\0', (gsize) (end - rest));
  if (zero == NULL || !is_all_zero (zero, (gsize) (end - zero)))
    return;
  count_zeros (reader, (gsize) (end - zero));
  reader->length = (gsize) (zero - reader->buffer);
}

/* Whether rows are wanted from the line that comes next. */
static gboolean
is_within_rows (const SbLogReader *reader)
{
  return reader->line + 1 >= reader->log->layout->first_line && reader->table.end_line == 0
         && reader->line < reader->rows.last_line;
}

/* A line that was too long to keep was just passed. */
static void
take_long_line (SbLogReader *reader, gboolean comment)
{
  reader->line--;
  gboolean row = is_within_rows (reader) && !comment;
  reader->line++;
  if (row)
    sb_rows_leave_out (reader->log, SB_FAULT_LONG_LINE, reader->line, NULL, "the line is longer than 1 MiB");
}

/* A number of two meanings, met before any that has one. */
static gboolean
fail_by_number (const SbLogReader *reader, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT,
               "%s, line %" G_GUINT64_FORMAT
               ": '%s' may be a number with decimals or one in thousands. State the decimal "
               "sign in the layout.",
               reader->log->name, reader->line, reader->rows.question);
  return FALSE;
}

static gboolean
take_row (SbLogReader *reader, const SbLine *line, GError **error)
{
  sb_cells_split (reader->cells, line->text, line->length, reader->rows.delimiter);
  reader->rows.open_quote = sb_cells_count (reader->cells) != reader->rows.n_columns
                            && sb_dialect_is_open (line->text, line->length, reader->rows.quote);
  if (sb_cells_count (reader->cells) > 0 && sb_rows_add (&reader->rows, reader->log, reader->cells, reader->line))
    sb_table_lines_restart (&reader->table, &reader->rows);
  return reader->rows.question == NULL || fail_by_number (reader, error);
}

static void
drop_byte_order_mark (SbLine *line)
{
  if (line->length < 3 || memcmp (line->text, "\xef\xbb\xbf", 3) != 0)
    return;
  line->text += 3;
  line->length -= 3;
}

/* Tabs between tabs are empty cells and no blank line. */
static gboolean
is_blank (const SbLogReader *reader, const SbLine *line)
{
  for (gsize i = 0; i < line->length; i++) {
    char c = line->text[i];
    if ((c != ' ' && c != '\t') || (c == '\t' && reader->rows.delimiter == '\t'))
      return FALSE;
  }
  return TRUE;
}

/* `last`: the file ends behind the line, without a line end. */
static gboolean
take_line (SbLogReader *reader, SbLine line, gboolean last, GError **error)
{
  const char *prefix = reader->log->layout->comment_prefix;
  if (memchr (line.text, '\0', line.length) != NULL)
    return fail_as_binary (reader, error);
  if (reader->line == 1)
    drop_byte_order_mark (&line);
  gsize comment = sb_dialect_comment_length (line.text, line.length, prefix);
  if (line.length > SB_LINE_MAX) {
    take_long_line (reader, comment > 0);
    return TRUE;
  }
  if (comment > 0) {
    sb_table_lines_pass_comment (&reader->table, reader->line);
    if (reader->table.end_line == 0)
      sb_comment_read (reader->log, line.text, line.length, comment, reader->line);
    return TRUE;
  }
  gboolean blank = is_blank (reader, &line);
  SbTake take = sb_table_lines_take (&reader->table, &reader->rows, reader->log, reader->cells, line.text, line.length,
                                     reader->line, blank);
  reader->rows.cut = last;
  return take != SB_TAKE_AS_ROW || take_row (reader, &line, error);
}

/* Drops what is there of a line too long to keep; where the rest of the bytes begins. NULL on error. */
static const char *
skip_long_line (SbLogReader *reader, const char *from, const char *end, gboolean at_end, GError **error)
{
  SbLine line;
  gboolean complete = sb_line_find (from, end, at_end, &line);
  /* A CR may be half of a line end. */
  const char *keep = complete ? line.next : end[-1] == '\r' ? end - 1 : end;
  if (memchr (from, '\0', (gsize) (keep - from)) != NULL) {
    reader->line++;
    fail_as_binary (reader, error);
    return NULL;
  }
  if (!complete)
    return keep;
  reader->skipping = FALSE;
  reader->line++;
  take_long_line (reader, reader->skips_comment);
  return keep;
}

static const char *
take_plain_rows (SbLogReader *reader, const char *from, const char *end)
{
  if (reader->rows.way == SB_ROWS_LIBCSV || !is_within_rows (reader))
    return from;
  reserve_rows (reader, from, end);
  gsize first_row = reader->rows.n_rows;
  guint64 first_line = reader->line + 1;
  const char *behind = sb_plain_rows_read (&reader->rows, from, end, &reader->line);
  if (reader->rows.n_rows > first_row)
    sb_row_lines_add (&reader->rows.lines, first_row, first_line);
  if (behind > from)
    sb_table_lines_pass_rows (&reader->table, &reader->rows, reader->log);
  return behind;
}

/* Everything up to the last line that is complete. Where that line begins; NULL on error. */
static const char *
take_lines (SbLogReader *reader, gboolean at_end, GError **error)
{
  const char *p = reader->buffer, *end = reader->buffer + reader->length;
  if (reader->skipping && p < end)
    p = skip_long_line (reader, p, end, at_end, error);
  while (p != NULL && p < end) {
    SbLine line;
    p = take_plain_rows (reader, p, end);
    if (p == end || !sb_line_find (p, end, at_end, &line))
      break;
    reader->line++;
    gboolean last = at_end && line.next == line.text + line.length;
    p = take_line (reader, line, last, error) ? line.next : NULL;
  }
  return p;
}

/* The bytes not yet read, and the zeros behind them that end the fast way. */
static void
set_rest (SbLogReader *reader, const char *rest, gsize n_rest)
{
  settle_digest (reader);
  memmove (reader->buffer, rest, n_rest);
  reader->length = n_rest;
  memset (reader->buffer + n_rest, 0, SB_PLAIN_PADDING);
}

static gboolean
consume (SbLogReader *reader, gboolean at_end, GError **error)
{
  const char *rest = take_lines (reader, at_end, error);
  if (rest == NULL)
    return FALSE;
  if (!reader->skipping)
    take_zeros (reader, rest);
  gsize n_rest = reader->length - (gsize) (rest - reader->buffer);
  if (n_rest > SB_LINE_MAX + 1 && !reader->skipping) {
    reader->skipping = TRUE;
    reader->skips_comment = sb_dialect_comment_length (rest, n_rest, reader->log->layout->comment_prefix) > 0;
    rest = skip_long_line (reader, rest, rest + n_rest, FALSE, error);
    if (rest == NULL)
      return FALSE;
    n_rest = reader->length - (gsize) (rest - reader->buffer);
  }
  set_rest (reader, rest, n_rest);
  return TRUE;
}

gboolean
sb_log_reader_take (SbLogReader *reader, gsize n_bytes, GError **error)
{
  if (reader->n_zeros > 0 && is_all_zero (reader->buffer + reader->length, n_bytes)) {
    count_zeros (reader, n_bytes);
    return TRUE;
  }
  if (reader->n_zeros > 0) {
    reader->line++;
    return fail_as_binary (reader, error);
  }
  reader->length += n_bytes;
  memset (reader->buffer + reader->length, 0, SB_PLAIN_PADDING);
  return consume (reader, FALSE, error);
}

/* ". Line 2, column 'x': 'n/a' is no number": the first fault of a data row, "" when it was not kept. */
static char *
explain_first_row (const SbLog *log)
{
  for (guint i = 0; i < log->faults->len; i++) {
    const SbFault *fault = log->faults->pdata[i];
    if (fault->line <= log->header_line)
      continue;
    g_autofree char *column = fault->column != NULL ? g_strdup_printf (", column '%s'", fault->column) : g_strdup ("");
    return g_strdup_printf (". Line %" G_GUINT64_FORMAT "%s: %s", fault->line, column, fault->what);
  }
  return g_strdup ("");
}

static void
fail_without_rows (const SbLog *log, GError **error)
{
  if (log->n_rows_left_out == 0) {
    g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
                 "%s: there are no rows after the header in line %" G_GUINT64_FORMAT ". Export the log again.",
                 log->name, log->header_line);
    return;
  }
  g_autofree char *why = explain_first_row (log);
  const SbFaultGroup *group = log->fault_groups->len > 0 ? log->fault_groups->pdata[0] : NULL;
  gboolean commas = group != NULL && group->kind == SB_FAULT_CELL_COUNT && log->layout->delimiter == ',';
  const char *hint = commas ? "; where commas are decimal signs, export with semicolons between the cells" : "";
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_ROWS,
               "%s: no row can be used (%" G_GSIZE_FORMAT " left out)%s. Compare the rows with the header in line "
               "%" G_GUINT64_FORMAT "%s.",
               log->name, log->n_rows_left_out, why, log->header_line, hint);
}

/* What the rows have shown of the numbers belongs to the layout that they were read with. */
static void
settle_style (SbLogReader *reader)
{
  SbLog *log = reader->log;
  char decimal = reader->rows.decimal != '\0' ? reader->rows.decimal : '.';
  if (log->layout->decimal != decimal || log->layout->thousands != reader->rows.thousands) {
    SbLayout *settled = sb_layout_copy (log->layout);
    settled->decimal = decimal;
    settled->thousands = reader->rows.thousands;
    sb_layout_unref (log->layout);
    log->layout = settled;
  }
  log->delimiter = log->layout->delimiter;
  log->decimal = decimal;
}

SbLog *
sb_log_reader_finish (SbLogReader *reader, GError **error)
{
  SbLog *log = reader->log;
  guint64 zero_line = reader->line + 1;
  if (reader->length > 0 && !consume (reader, TRUE, error))
    return NULL;
  if (reader->skipping) {
    reader->line++;
    take_long_line (reader, reader->skips_comment);
  }
  sb_table_lines_finish (&reader->table, &reader->rows, log);
  if (reader->n_zeros > 0)
    sb_log_add_fault (log, SB_FAULT_ZERO_TAIL, zero_line, NULL,
                      "the file ends in %" G_GUINT64_FORMAT " zero byte%s, which %s left out: room that the logger "
                      "reserved and did not fill",
                      reader->n_zeros, reader->n_zeros == 1 ? "" : "s", reader->n_zeros == 1 ? "was" : "were");
  if (reader->rows.n_rows == 0) {
    fail_without_rows (log, error);
    return NULL;
  }
  settle_style (reader);
  sb_rows_finish (&reader->rows, log);
  if (log->n_rows == 0) {
    fail_without_rows (log, error);
    return NULL;
  }
  return g_steal_pointer (&reader->log);
}
