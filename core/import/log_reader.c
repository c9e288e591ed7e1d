/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_reader.h"
#include "comment.h"
#include "dialect.h"
#include "digest.h"
#include "line.h"
#include "plain_rows.h"

#include <string.h>

#define FIRST_CAPACITY 4096
/* A file that is no text has a zero byte among its first bytes. */
#define HEAD_SIZE 4096
/* Fewer bytes say too little about the length of a row. */
#define BYTES_TO_ESTIMATE_FROM 65536

struct _SbLogReader {
  SbLog *log;
  SbRows rows;
  SbCells *cells;
  SbDigest *digest;
  guint64 size_hint;
  gboolean plain_rows;

  char *buffer;
  gsize length, capacity;

  guint8 first[2]; /* of the file */
  gboolean zero_in_head;
  GError *header_error; /* kept until the head of the file is known to be text */

  guint64 line;       /* lines read so far */
  gboolean skipping;  /* inside a line longer than SB_LINE_MAX, ... */
  char first_of_long; /* ... which began so */
};

SbLogReader *
sb_log_reader_new (const char *path, guint64 size_hint, SbColumnPool *pool)
{
  SbLogReader *reader = g_new0 (SbLogReader, 1);
  reader->log = sb_log_new (path);
  reader->cells = sb_cells_new ();
  reader->digest = sb_digest_new ();
  reader->size_hint = size_hint;
  reader->plain_rows = TRUE;
  sb_rows_init (&reader->rows);
  reader->rows.pool = pool;
  reader->log->column_pool = pool != NULL ? sb_column_pool_ref (pool) : NULL;
  return reader;
}

void
sb_log_reader_free (SbLogReader *reader)
{
  g_clear_error (&reader->header_error);
  sb_rows_clear (&reader->rows); /* before the log, which holds the pool */
  g_clear_pointer (&reader->log, sb_log_unref);
  sb_cells_free (reader->cells);
  sb_digest_free (reader->digest);
  g_free (reader->buffer);
  g_free (reader);
}

void
sb_log_reader_set_plain_rows (SbLogReader *reader, gboolean plain_rows)
{
  reader->plain_rows = plain_rows;
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

static gboolean
has_header (const SbLogReader *reader)
{
  return reader->log->header_line != 0;
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
is_utf16 (const SbLogReader *reader)
{
  const guint8 *first = reader->first;
  return (first[0] == 0xff && first[1] == 0xfe) || (first[0] == 0xfe && first[1] == 0xff);
}

static gboolean
fail_as_binary (const SbLogReader *reader, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
               is_utf16 (reader)
                   ? "%s, line %" G_GUINT64_FORMAT ": this is UTF-16 text. Save it as UTF-8 and read it again."
                   : "%s, line %" G_GUINT64_FORMAT ": this is no text (it has a zero byte). Export the log as "
                     "CSV text and read that.",
               reader->log->name, reader->line);
  return FALSE;
}

static gboolean
take_long_line (SbLogReader *reader, char first, GError **error)
{
  if (first == '#')
    return TRUE;
  if (has_header (reader)) {
    sb_rows_leave_out (reader->log, SB_FAULT_LONG_LINE, reader->line, NULL, "the line is longer than 1 MiB");
    return TRUE;
  }
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
               "%s, line %" G_GUINT64_FORMAT
               ": the line is longer than 1 MiB, no header is. Export the log with one row "
               "a line and a header before the rows.",
               reader->log->name, reader->line);
  return FALSE;
}

static gboolean
take_header (SbLogReader *reader, const char *text, gsize length)
{
  g_autofree char *header = sb_text_to_utf8 (text, length);
  return sb_dialect_read_header (&reader->rows, reader->log, reader->cells, header, strlen (header), reader->line,
                                 &reader->header_error);
}

static gboolean
take_line (SbLogReader *reader, const SbLine *line, GError **error)
{
  const char *text = line->text;
  gsize length = line->length;
  if (memchr (text, '\0', length) != NULL)
    return fail_as_binary (reader, error);
  if (reader->line == 1 && length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0) {
    text += 3;
    length -= 3;
  }
  gsize blanks = 0;
  while (blanks < length && (text[blanks] == ' ' || text[blanks] == '\t'))
    blanks++;
  char first = blanks < length ? text[blanks] : '\0';
  if (length > SB_LINE_MAX)
    return take_long_line (reader, first, error);
  if (first == '#') {
    sb_comment_read (reader->log, text + blanks, length - blanks, reader->line);
    return TRUE;
  }
  if (!has_header (reader))
    return first == '\0' || take_header (reader, text, length);
  sb_cells_split (reader->cells, text, length, reader->rows.delimiter);
  if (sb_cells_count (reader->cells) == 0)
    return TRUE;
  gboolean is_units = FALSE;
  if (reader->line == reader->log->header_line + 1
      && !sb_dialect_read_units (&reader->rows, reader->log, reader->cells, reader->line, &is_units, error))
    return FALSE;
  if (!is_units)
    sb_rows_add (&reader->rows, reader->log, reader->cells, reader->line);
  return TRUE;
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
  return take_long_line (reader, reader->first_of_long, error) ? keep : NULL;
}

static const char *
take_plain_rows (SbLogReader *reader, const char *from, const char *end)
{
  if (!reader->plain_rows || !has_header (reader))
    return from;
  reserve_rows (reader, from, end);
  return sb_plain_rows_read (&reader->rows, from, end, &reader->line);
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
    p = take_line (reader, &line, error) ? line.next : NULL;
  }
  return p;
}

/* The bytes not yet read, and the zeros behind them that end the fast way. */
static void
set_rest (SbLogReader *reader, const char *rest, gsize n_rest)
{
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
  gsize n_rest = reader->length - (gsize) (rest - reader->buffer);
  if (n_rest > SB_LINE_MAX + 1 && !reader->skipping) {
    reader->skipping = TRUE;
    reader->first_of_long = rest[strspn (rest, " \t")];
    rest = skip_long_line (reader, rest, rest + n_rest, FALSE, error);
    if (rest == NULL)
      return FALSE;
    n_rest = reader->length - (gsize) (rest - reader->buffer);
  }
  set_rest (reader, rest, n_rest);
  return TRUE;
}

/* What is no header may be no text at all, which is the better thing to say. TRUE while that is not known. */
static gboolean
judge_header_error (SbLogReader *reader, gboolean at_end, GError **error)
{
  reader->length = 0;
  if (reader->zero_in_head)
    return fail_as_binary (reader, error);
  if (!at_end && reader->log->size_bytes < HEAD_SIZE)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&reader->header_error));
  return FALSE;
}

static void
look_at_head (SbLogReader *reader, const char *bytes, gsize n_bytes)
{
  for (gsize i = 0; i < n_bytes && reader->log->size_bytes + i < sizeof reader->first; i++)
    reader->first[reader->log->size_bytes + i] = (guint8) bytes[i];
  if (reader->log->size_bytes < HEAD_SIZE && !has_header (reader))
    reader->zero_in_head |= memchr (bytes, '\0', MIN (n_bytes, HEAD_SIZE - reader->log->size_bytes)) != NULL;
}

gboolean
sb_log_reader_take (SbLogReader *reader, gsize n_bytes, GError **error)
{
  const char *block = reader->buffer + reader->length;
  sb_digest_add (reader->digest, block, n_bytes);
  look_at_head (reader, block, n_bytes);
  reader->log->size_bytes += n_bytes;
  reader->length += n_bytes;
  memset (reader->buffer + reader->length, 0, SB_PLAIN_PADDING);
  if (reader->header_error == NULL && consume (reader, FALSE, error))
    return TRUE;
  return reader->header_error != NULL && judge_header_error (reader, FALSE, error);
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
  if (log->header_line == 0) {
    g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
                 "%s: the file has no header and no rows. Export the log again.", log->name);
    return;
  }
  if (log->n_rows_left_out == 0) {
    g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
                 "%s: there are no rows after the header in line %" G_GUINT64_FORMAT ". Export the log again.",
                 log->name, log->header_line);
    return;
  }
  g_autofree char *why = explain_first_row (log);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_ROWS,
               "%s: no row can be used (%" G_GSIZE_FORMAT " left out)%s. Compare the rows with the header in line "
               "%" G_GUINT64_FORMAT ".",
               log->name, log->n_rows_left_out, why, log->header_line);
}

SbLog *
sb_log_reader_finish (SbLogReader *reader, GError **error)
{
  SbLog *log = reader->log;
  gboolean consumed = reader->header_error == NULL && (reader->length == 0 || consume (reader, TRUE, error));
  if (reader->header_error != NULL)
    judge_header_error (reader, TRUE, error);
  if (!consumed)
    return NULL;
  if (reader->skipping) {
    reader->line++;
    if (!take_long_line (reader, reader->first_of_long, error))
      return NULL;
  }
  if (reader->rows.n_rows == 0) {
    fail_without_rows (log, error);
    return NULL;
  }
  sb_digest_finish (reader->digest, log->sha256);
  log->delimiter = reader->rows.delimiter;
  log->decimal = reader->rows.decimal != 0 ? reader->rows.decimal : '.';
  sb_rows_finish (&reader->rows, log);
  return g_steal_pointer (&reader->log);
}
