/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ticks.h"

#include <math.h>

/* Steps are alike when none is longer than another by more than this share of it, */
#define STEPS_ALIKE 0.1
/* or by one count, which is the rounding of each. */
#define ROUNDING 1.0
/* Whole numbers beyond have gaps between them. */
#define LARGEST_COUNT 1e15
/* A count that was made SI is off by less when it is made a count again. */
#define COUNTS_OFF 1e-3
/* Of so many steps a gap in a recording is at most that was not stopped, as in restart.c. */
#define MOST_STEPS 4.0

const SbCounter sb_counters[SB_N_COUNTERS] = { { 16, 65536.0, "65536" }, { 32, 4294967296.0, "4294967296" } };

double
sb_ticks_count (double time, double size)
{
  double counts = time / size, whole = rint (counts);
  return fabs (counts - whole) <= COUNTS_OFF ? whole : counts;
}

static gboolean
is_whole (double counts)
{
  return fabs (counts) < LARGEST_COUNT && !(fabs (counts - rint (counts)) > 0);
}

void
sb_ticks_pass_over (SbTicks *ticks, double counts)
{
  if (!ticks->has_first)
    ticks->first = counts;
  ticks->has_first = TRUE;
}

/* A step over rows that were left out, as one from row to row. */
static double
single_step (const SbTickRows *rows, double step)
{
  double n = rint (step / rows->least);
  return rows->least > 0 && n > 1 && n <= MOST_STEPS ? step / n : step;
}

void
sb_ticks_add (SbTicks *ticks, double counts)
{
  SbTickRows *rows = &ticks->rows;
  ticks->before = *rows;
  sb_ticks_pass_over (ticks, counts);
  double step = counts - rows->last;
  if (rows->n_rows == 1)
    rows->least = rows->most = step;
  if (rows->n_rows == 2) /* the first step may have been the longer one */
    rows->least = rows->most = single_step (&(SbTickRows){ .least = step }, rows->least);
  if (rows->n_rows > 1) {
    step = single_step (rows, step);
    rows->least = fmin (rows->least, step);
    rows->most = fmax (rows->most, step);
  }
  if (!is_whole (counts))
    rows->most = (double) INFINITY; /* no counter says that: its steps are never alike */
  rows->last = counts;
  rows->n_rows++;
}

void
sb_ticks_replace (SbTicks *ticks, double counts)
{
  ticks->rows = ticks->before;
  sb_ticks_add (ticks, counts);
}

static gboolean
goes_on_over (const SbTicks *ticks, double counts, double range)
{
  double last = ticks->rows.last - ticks->offset, step = counts + range - last;
  double slack = ROUNDING + (ticks->rows.most - ticks->rows.least);
  return counts >= 0 && ticks->first >= 0 && last < range && step >= ticks->rows.least - slack
         && step <= ticks->rows.most + slack;
}

/* Where the recording began, or would have but for a few rows. */
static gboolean
is_near_first (const SbTicks *ticks, double counts)
{
  return fabs (counts - ticks->first) <= MOST_STEPS * ticks->rows.most;
}

gboolean
sb_ticks_begin_again (SbTicks *ticks, double counts)
{
  const SbTickRows *rows = &ticks->rows;
  gboolean alike = rows->most - rows->least <= fmax (ROUNDING, STEPS_ALIKE * rows->least);
  if (rows->n_rows < SB_TICKS_LEAST_ROWS || !alike || !is_whole (counts) || !is_whole (rows->last)
      || !is_whole (ticks->first))
    return FALSE;
  for (gsize i = 0; i < SB_N_COUNTERS; i++) {
    const SbCounter *counter = &sb_counters[i];
    if ((ticks->bits != 0 && ticks->bits != counter->bits) || !goes_on_over (ticks, counts, counter->range))
      continue;
    if (ticks->bits == 0 && is_near_first (ticks, counts))
      return FALSE;
    ticks->bits = counter->bits;
    ticks->offset += counter->range;
    ticks->n_wraps++;
    return TRUE;
  }
  return FALSE;
}
