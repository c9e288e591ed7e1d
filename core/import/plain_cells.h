/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the two ways to read plain rows share: for plain_rows.c and plain_windows.c only. */
#pragma once

#include "line.h"
#include "rows.h"

/* The number from `text` up to `end` and the blanks around it, whatever its form, into *value. FALSE when it is none.
 */
gboolean sb_plain_cell_read (const char *text, const char *end, char decimal, int shift, double *value);

/* Past a cell that is not kept row by row; NULL when it is libcsv's to understand. */
const char *sb_plain_cell_pass (SbRows *rows, const SbRowColumn *column, const char *text);

/* The start of the next line when a line ends at `p` (delimiters may precede its end), else NULL. */
static inline const char *
sb_plain_line_end (const char *p, const char *end, char delimiter)
{
  while (*p == delimiter)
    p++;
  if (*p == '\n')
    return p + 1;
  if (*p != '\r' || p + 1 == end)
    return NULL;
  return p[1] == '\n' ? p + 2 : p + 1;
}

/* A comment, or blanks that may precede one, where the first cell would be read past. */
static inline gboolean
sb_plain_may_be_comment (const SbRows *rows, const char *p)
{
  return rows->columns[0].channel < 0 && (*p == rows->comment_first || g_ascii_isspace (*p));
}

/* Keeps the row that was read into place n_rows, unless its time does not increase. */
static inline gboolean
sb_plain_row_keep (SbRows *rows)
{
  double time = rows->values[SB_CHANNEL_TIME][rows->n_rows];
  if (!(time > rows->last_time))
    return FALSE;
  if (rows->has_asides)
    sb_rows_sum_asides (rows);
  rows->last_time = time;
  rows->n_rows++;
  return TRUE;
}

/* Reads a row into place n_rows; where the next one begins, or NULL when it is libcsv's to understand. `with`: what it
 * was called with. */
typedef const char *(*SbPlainRowRead) (SbRows *rows, const char *text, const char *end, gpointer with);

/* Row after row. Inlined whole, so that `read` is no call through a pointer. */
static inline __attribute__ ((always_inline)) const char *
sb_plain_rows_walk (SbRows *rows, const char *text, const char *end, guint64 *n_lines, SbPlainRowRead read,
                    gpointer with)
{
  while (text < end && *n_lines < rows->last_line) {
    if (G_UNLIKELY (rows->n_rows == rows->capacity))
      sb_rows_grow (rows, 0);
    const char *next = sb_plain_may_be_comment (rows, text) ? NULL : read (rows, text, end, with);
    if (next == NULL || next - text > SB_LINE_MAX || !sb_plain_row_keep (rows))
      break;
    ++*n_lines;
    text = next;
  }
  return text;
}
