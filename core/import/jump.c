/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "jump.h"

#include "number_text.h"

#include <stdlib.h>

/* Fewer rows show no interval that a step could be compared with. */
#define LEAST_ROWS       8
#define JUMP_INTERVALS   20
#define JUMP_OF_THE_REST 0.1
#define BLOCK            256

static gboolean
is_among (const GArray *jumps, gsize row)
{
  for (guint i = 0; i < jumps->len; i++)
    if (g_array_index (jumps, SbJump, i).row == row)
      return TRUE;
  return FALSE;
}

/* The row behind the longest step that is longer than `least` and no jump yet; 0 when there is none. Times increase: no
 * step of a block is longer than the block. */
static gsize
find_longest (const double *t, gsize n, double least, const GArray *jumps)
{
  gsize longest = 0;
  for (gsize from = 0; from + 1 < n; from += BLOCK) {
    gsize to = MIN (from + BLOCK, n - 1);
    if (!(t[to] - t[from] > least))
      continue;
    for (gsize i = from + 1; i <= to; i++)
      if (t[i] - t[i - 1] > least && !is_among (jumps, i)) {
        longest = i;
        least = t[i] - t[i - 1];
      }
  }
  return longest;
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static double
median_step (const double *t, gsize n)
{
  g_autofree double *steps = g_new (double, n - 1);
  for (gsize i = 1; i < n; i++)
    steps[i - 1] = t[i] - t[i - 1];
  qsort (steps, n - 1, sizeof *steps, compare_doubles);
  return steps[(n - 1) / 2];
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  gsize x = ((const SbJump *) a)->row, y = ((const SbJump *) b)->row;
  return (x > y) - (x < y);
}

/* The longest step first: what is left decides whether the next one is a jump as well. The median, which means sorting,
 * is asked for only where a step is that long. */
GArray *
sb_jumps_find (const double *t, gsize n, const SbRowLines *lines)
{
  GArray *jumps = g_array_new (FALSE, FALSE, sizeof (SbJump));
  double rest = n >= LEAST_ROWS ? t[n - 1] - t[0] : 0, interval = 0;
  while (n >= LEAST_ROWS && jumps->len < SB_JUMPS_MOST) {
    gsize row = find_longest (t, n, rest * JUMP_OF_THE_REST / (1 + JUMP_OF_THE_REST), jumps);
    if (row == 0)
      break;
    if (jumps->len == 0)
      interval = median_step (t, n);
    double step = t[row] - t[row - 1];
    if (!(step > JUMP_INTERVALS * interval))
      break;
    rest -= step;
    SbJump jump = { row, sb_row_lines_find (lines, row), t[row - 1], step, interval };
    g_array_append_val (jumps, jump);
  }
  g_array_sort (jumps, compare_rows);
  return jumps;
}

/* With a decimal point in every locale: the same file gives the same words. */
char *
sb_jump_text (const SbJump *jump)
{
  char by[G_ASCII_DTOSTR_BUF_SIZE], from[G_ASCII_DTOSTR_BUF_SIZE], to[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (by, sizeof by, "%.6g", jump->step_s);
  g_ascii_formatd (from, sizeof from, "%.9g", jump->before_s);
  g_ascii_formatd (to, sizeof to, "%.9g", jump->before_s + jump->step_s);
  g_autofree char *line = jump->line > 0 ? g_strdup_printf (" at line %" G_GUINT64_FORMAT, jump->line) : g_strdup ("");
  return sb_plain_sentence (
      g_strdup_printf ("the clock jumps ahead by %s s%s (from %s s to %s s)", by, line, from, to));
}
