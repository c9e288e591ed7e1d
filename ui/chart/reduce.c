/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reduce.h"

static gsize
first_on_grid (double x0, double dx, gsize n, double at)
{
  double position = (at - x0) / dx;
  if (!(position > 0))
    return 0;
  gsize i = position < (double) n ? (gsize) position + 1 : n; /* one too far at most, which is put right below */
  /* The division may be off by one rounding. */
  while (i > 0 && x0 + (double) (i - 1) * dx >= at)
    i--;
  while (i < n && x0 + (double) i * dx < at)
    i++;
  return i;
}

gsize
sb_first_at_or_after (const double *x, double x0, double dx, gsize n, double at)
{
  if (x == NULL)
    return first_on_grid (x0, dx, n, at);
  gsize low = 0, high = n;
  while (low < high) {
    gsize middle = low + (high - low) / 2;
    if (x[middle] < at)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}
