/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "row_lines.h"

typedef struct {
  gsize row;
  guint64 line;
} Run;

#define RUN(lines, i) (g_array_index ((lines)->runs, Run, i))

void
sb_row_lines_clear (SbRowLines *lines)
{
  g_clear_pointer (&lines->runs, g_array_unref);
}

void
sb_row_lines_add (SbRowLines *lines, gsize row, guint64 line)
{
  if (lines->is_full)
    return;
  if (lines->runs == NULL)
    lines->runs = g_array_new (FALSE, FALSE, sizeof (Run));
  if (lines->runs->len > 0) {
    const Run *last = &RUN (lines, lines->runs->len - 1);
    if (line - last->line == row - last->row)
      return;
  }
  Run run = { row, line };
  g_array_append_val (lines->runs, run);
  lines->is_full = lines->runs->len > SB_ROW_LINES_MOST_RUNS;
}

guint64
sb_row_lines_find (const SbRowLines *lines, gsize row)
{
  guint low = 0, high = lines->runs != NULL ? lines->runs->len : 0;
  while (low < high) {
    guint middle = low + (high - low) / 2;
    if (RUN (lines, middle).row <= row)
      low = middle + 1;
    else
      high = middle;
  }
  if (low == 0 || (lines->is_full && low == lines->runs->len))
    return 0;
  const Run *run = &RUN (lines, low - 1);
  return run->line + (row - run->row);
}
