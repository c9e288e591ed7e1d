/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quantum.h"

#include <math.h>

#define OFF_GRID 0.02
/* The differences themselves go to and fro so often at least. */
#define FEWEST_TURNS 3

static double
smallest_change (const double *y, gsize n)
{
  double smallest = (double) INFINITY;
  for (gsize i = 1; i < n; i++) {
    double change = fabs (y[i] - y[i - 1]);
    smallest = change > 0 ? fmin (smallest, change) : smallest;
  }
  return smallest;
}

double
sb_quantum (const double *y, gsize n)
{
  double step = smallest_change (y, n), before = 0, turn = 0;
  gsize n_turns = 0;
  if (!isfinite (step))
    return 0;
  for (gsize i = 1; i < n; i++) {
    double steps = (y[i] - y[i - 1]) / step, whole = round (steps), change = whole - before;
    if (!(fabs (steps - whole) <= OFF_GRID))
      return 0;
    n_turns += change * turn < 0 ? 1 : 0;
    turn = fabs (change) > 0 ? change : turn;
    before = whole;
  }
  return n_turns >= FEWEST_TURNS ? step : 0;
}
