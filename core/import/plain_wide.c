/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain_wide.h"
#include "digest_steps.h"
#include "plain_cells.h"
#include "plain_wide_cells.h"
#include "plain_windows.h"

/* Rows left to the other way after one that was not read here: a log of such rows is not to be tried twice. */
#define N_ROWS_NOT_TRIED 15

typedef struct {
  SbDigestSteps digest;
  guint n_not_tried;
  SbWideColumns columns;
} Wide;

/* One row into place n_rows of the values; the start of the next line, or NULL when it is not for this way. */
static inline const char *
read_row (SbRows *rows, Wide *wide, const char *text, const char *end)
{
  text = sb_wide_cells_read (rows, &wide->columns, text);
  if (G_UNLIKELY (text == NULL))
    return NULL;
  for (guint i = 0; i < rows->n_columns; i++)
    rows->values[rows->columns[i].channel][rows->n_rows] = wide->columns.values[i];
  return sb_plain_line_end (text, end, rows->delimiter);
}

static inline const char *
digest_and_read_row (SbRows *rows, const char *text, const char *end, gpointer with)
{
  Wide *wide = with;
  sb_digest_steps_go (&wide->digest, text);
  if (G_UNLIKELY (wide->n_not_tried > 0)) {
    wide->n_not_tried--;
    return sb_plain_windows_row (rows, text, end);
  }
  const char *next = read_row (rows, wide, text, end);
  if (G_LIKELY (next != NULL))
    return next;
  wide->n_not_tried = N_ROWS_NOT_TRIED;
  return sb_plain_windows_row (rows, text, end);
}

const char *
sb_plain_wide_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines)
{
  Wide wide = { .digest = sb_digest_steps_begin (rows->digest) };
  for (guint i = 0; i < rows->n_columns; i++) {
    wide.columns.power_of_ten[i] = rows->columns[i].power_of_ten;
    wide.columns.factor[i] = rows->columns[i].scaled ? rows->columns[i].factor : 1.0;
  }
  text = sb_plain_rows_walk (rows, text, end, n_lines, digest_and_read_row, &wide);
  sb_digest_steps_end (&wide.digest, rows->digest);
  return text;
}

gboolean
sb_plain_wide_possible (const SbRows *rows)
{
  for (guint i = 0; i < rows->n_columns; i++)
    if (rows->columns[i].channel < 0)
      return FALSE;
  return sb_digest_steps_possible () && __builtin_cpu_supports ("bmi2") && __builtin_cpu_supports ("avx512bw")
         && __builtin_cpu_supports ("avx512dq") && __builtin_cpu_supports ("avx512vbmi")
         && __builtin_cpu_supports ("avx512vbmi2");
}
