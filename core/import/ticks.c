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
sb_ticks_add (SbTicks *ticks, double counts)
{
  double step = counts - ticks->last;
  if (ticks->n_rows == 0)
    ticks->first = counts;
  if (ticks->n_rows == 1)
    ticks->least = ticks->most = step;
  if (ticks->n_rows > 1) {
    ticks->least = fmin (ticks->least, step);
    ticks->most = fmax (ticks->most, step);
  }
  if (!is_whole (counts))
    ticks->most = (double) INFINITY; /* no counter says that: its steps are never alike */
  ticks->last = counts;
  ticks->n_rows++;
}

static gboolean
goes_on_over (const SbTicks *ticks, double counts, double range)
{
  double last = ticks->last - ticks->offset, step = counts + range - last;
  double slack = ROUNDING + (ticks->most - ticks->least);
  return counts >= 0 && ticks->first >= 0 && last < range && step >= ticks->least - slack
         && step <= ticks->most + slack;
}

gboolean
sb_ticks_begin_again (SbTicks *ticks, double counts)
{
  static const guint bits[] = { 16, 32 };
  gboolean alike = ticks->most - ticks->least <= fmax (ROUNDING, STEPS_ALIKE * ticks->least);
  if (ticks->n_rows < SB_TICKS_LEAST_ROWS || !alike || !is_whole (counts) || !is_whole (ticks->last)
      || !is_whole (ticks->first))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (bits); i++) {
    double range = ldexp (1.0, (int) bits[i]);
    if ((ticks->bits != 0 && ticks->bits != bits[i]) || !goes_on_over (ticks, counts, range))
      continue;
    if (ticks->bits == 0 && !(fabs (counts - ticks->first) > 0))
      return FALSE;
    ticks->bits = bits[i];
    ticks->offset += range;
    ticks->n_wraps++;
    return TRUE;
  }
  return FALSE;
}
