/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_checks.h"
#include "broken.h"
#include "rows.h"

#include <math.h>
#include <string.h>

static void
check (gboolean good, const char *what)
{
  if (!good)
    broken (what);
}

static void
check_values (const SbLog *log)
{
  const double *time = log->channel[SB_CHANNEL_TIME];
  check (log->n_rows > 0, "a log without rows is no error");
  check (time != NULL, "a log has no time");
  for (int c = 0; c < SB_N_CHANNELS; c++)
    for (gsize i = 0; log->channel[c] != NULL && i < log->n_rows; i++)
      check (isfinite (log->channel[c][i]) && fabs (log->channel[c][i]) <= SB_LARGEST_VALUE,
             "a value is no measurement");
  for (gsize i = 1; i < log->n_rows; i++)
    check (time[i] > time[i - 1], "time does not increase");
}

static void
check_text (const char *text)
{
  check (text != NULL && g_utf8_validate (text, -1, NULL), "a text for people is no UTF-8");
}

static void
check_faults (const SbLog *log)
{
  guint64 n_in_groups = 0, last_line = 0, last_first_line = 0;
  check (log->n_faults >= log->n_rows_left_out, "a row was left out without a reason");
  check (log->faults->len == MIN (log->n_faults, SB_LOG_MAX_FAULTS), "a fault was counted but not kept");
  for (guint i = 0; i < log->faults->len; i++) {
    const SbFault *fault = log->faults->pdata[i];
    check_text (fault->what);
    if (fault->column != NULL)
      check_text (fault->column);
    check (fault->line >= last_line, "faults are out of order");
    last_line = fault->line;
  }
  for (guint i = 0; i < log->fault_groups->len; i++) {
    const SbFaultGroup *group = log->fault_groups->pdata[i];
    g_autofree char *text = sb_fault_group_text (group);
    check_text (text);
    check (group->first_line >= last_first_line, "groups of faults are out of order");
    last_first_line = group->first_line;
    n_in_groups += group->n;
  }
  check (n_in_groups == log->n_faults, "the groups do not add up to the faults");
}

static void
check_descriptions (const SbLog *log)
{
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = log->columns->pdata[i];
    check_text (column->name);
    check_text (column->unit);
    check (isfinite (column->factor) && column->factor > 0.0, "the factor of a column is no factor");
  }
  for (guint i = 0; i < log->settings->len; i++) {
    const SbSetting *setting = log->settings->pdata[i];
    check_text (setting->name);
    check_text (setting->text);
    check_text (setting->unit);
  }
  for (guint i = 0; i < log->notes->len; i++)
    check_text (sb_notes_text (log->notes, i));
}

static gboolean
is_comment (const SbLog *log, const char *line, const char *end)
{
  gsize n_prefix = strlen (log->layout->comment_prefix);
  while (line < end && (*line == ' ' || *line == '\t'))
    line++;
  return n_prefix > 0 && (gsize) (end - line) >= n_prefix && memcmp (line, log->layout->comment_prefix, n_prefix) == 0;
}

/* Between tabs are cells, if empty ones. */
static gboolean
is_blank (const SbLog *log, const char *line, const char *end)
{
  while (line < end && (*line == ' ' || (*line == '\t' && log->delimiter != '\t')))
    line++;
  return line == end;
}

/* Lines from the first row on that are neither blank nor comments. */
static guint64
count_data_lines (const SbLog *log, const char *text, gsize length)
{
  const char *end = text + length;
  guint64 n_data = 0, last_line = log->layout->last_line > 0 ? log->layout->last_line : G_MAXUINT64;
  while (end > text && end[-1] == '\0')
    end--;
  text += length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
  for (guint64 line = 1; text < end; line++) {
    const char *stop = text;
    while (stop < end && *stop != '\n' && *stop != '\r')
      stop++;
    gboolean lone = line > 0 && line == log->layout->lone_line;
    gboolean inside = lone || (line >= log->layout->first_line && line <= last_line);
    n_data += inside && !is_blank (log, text, stop) && !is_comment (log, text, stop);
    text = stop + (stop + 1 < end && stop[0] == '\r' && stop[1] == '\n' ? 2 : 1);
  }
  return n_data;
}

/* TRUE when the end of the table shows in the log: no other one follows. */
static gboolean
is_only_table (const SbLog *log)
{
  for (guint i = 0; i < log->notes->len; i++)
    if (sb_notes_get (log->notes, i)->kind == SB_NOTE_OTHER_TABLES)
      return FALSE;
  return TRUE;
}

/* For text in which a digit is one byte. */
static void
check_counts (const SbLog *log, const char *bytes, gsize n_bytes)
{
  guint64 n = log->n_rows + log->n_rows_left_out + log->n_repeated_headers;
  guint64 n_lines = count_data_lines (log, bytes, n_bytes);
  check (n <= n_lines, "there are more rows than lines");
  /* More names and a units row are repeated with their header. */
  guint64 n_below = log->layout->header_line > 0 ? log->layout->first_line - log->layout->header_line - 1 : 0;
  if (is_only_table (log))
    check (n == n_lines || (n < n_lines && n + n_below * log->n_repeated_headers >= n_lines),
           "rows and rows left out are not all data rows");
}

/* Each lies between two rows, behind those left out for it. */
static void
check_setbacks (const SbLog *log)
{
  guint64 n = 0, last_row = 0;
  for (guint i = 0; i < log->setbacks->len; i++) {
    const SbSetback *setback = &g_array_index (log->setbacks, SbSetback, i);
    check (setback->row > last_row && setback->row < log->n_rows, "the clock is set back outside the rows");
    check (setback->n_rows >= SB_SETBACK_ROWS, "jitter is told as a clock that is set back");
    last_row = setback->row;
    n += setback->n_rows;
  }
  check (n <= log->n_rows_left_out, "the clock is set back by rows that are kept");
}

/* Each lies between two rows, and is as long as their times are apart. */
static void
check_jumps (const SbLog *log)
{
  const double *time = log->channel[SB_CHANNEL_TIME];
  guint64 last_row = 0;
  for (guint i = 0; i < log->jumps->len; i++) {
    const SbJump *jump = &g_array_index (log->jumps, SbJump, i);
    g_autofree char *text = sb_jump_text (jump);
    check_text (text);
    check (jump->row > last_row && jump->row < log->n_rows, "the clock jumps outside the rows");
    check (!(fabs (jump->step_s - (time[jump->row] - time[jump->row - 1])) > 0),
           "a jump is not as long as its rows are apart");
    last_row = jump->row;
  }
}

static void
check_digest (const SbLog *log, const char *bytes, gsize n_bytes)
{
  g_autofree char *digest = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, n_bytes);
  check (log->size_bytes == n_bytes && strcmp (log->sha256, digest) == 0, "the digest is not that of the bytes");
}

void
check_log (const SbLog *log, const char *bytes, gsize n_bytes)
{
  gboolean packed = n_bytes > 1 && memcmp (bytes, "\x1f\x8b", 2) == 0;
  gboolean narrow = log->layout->encoding != SB_ENCODING_UTF16_LE && log->layout->encoding != SB_ENCODING_UTF16_BE;
  check_values (log);
  check_faults (log);
  check_descriptions (log);
  check_setbacks (log);
  check_jumps (log);
  check_digest (log, bytes, n_bytes);
  if (narrow && !packed)
    check_counts (log, bytes, n_bytes);
}

void
check_error (const GError *error)
{
  check (error != NULL && error->domain == SB_LOG_ERROR, "no log, and no reason");
  check (error->code != SB_LOG_ERROR_OPEN, "bytes in memory cannot be opened");
  check_text (error->message);
  check (strncmp (error->message, "fuzz.csv", 8) == 0, "a message does not name the file");
}
