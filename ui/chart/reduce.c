/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reduce.h"

#include <math.h>

/* Values compared side by side, so that the compiler can use vector instructions: without it the compares of a long
 * curve wait for each other. */
#define N_LANES 8

void
sb_extremes (const double *y, gsize first, gsize end, double *lowest, double *highest)
{
  double low[N_LANES], high[N_LANES];
  for (int k = 0; k < N_LANES; k++) {
    low[k] = HUGE_VAL;
    high[k] = -HUGE_VAL;
  }
  gsize i = first;
  /* A comparison with NaN is false, which passes it over. */
  for (; i + N_LANES <= end; i += N_LANES)
    for (int k = 0; k < N_LANES; k++) {
      double value = y[i + (gsize) k];
      low[k] = value < low[k] ? value : low[k];
      high[k] = value > high[k] ? value : high[k];
    }
  for (; i < end; i++) {
    low[0] = y[i] < low[0] ? y[i] : low[0];
    high[0] = y[i] > high[0] ? y[i] : high[0];
  }
  for (int k = 1; k < N_LANES; k++) {
    low[0] = low[k] < low[0] ? low[k] : low[0];
    high[0] = high[k] > high[0] ? high[k] : high[0];
  }
  *lowest = low[0];
  *highest = high[0];
}

void
sb_fill_blocks (const double *y, gsize n_points, double *blocks)
{
  for (gsize b = 0; b < sb_n_blocks (n_points); b++)
    sb_extremes (y, b * SB_BLOCK, (b + 1) * SB_BLOCK, &blocks[2 * b], &blocks[2 * b + 1]);
}

void
sb_extremes_of (const double *y, const double *blocks, gsize first, gsize end, double *lowest, double *highest)
{
  gsize from = (first + SB_BLOCK - 1) / SB_BLOCK, to = end / SB_BLOCK;
  if (blocks == NULL || to <= from) {
    sb_extremes (y, first, end, lowest, highest);
    return;
  }
  double low, high;
  sb_extremes (y, first, from * SB_BLOCK, lowest, highest);
  sb_extremes (y, to * SB_BLOCK, end, &low, &high);
  *lowest = low < *lowest ? low : *lowest;
  *highest = high > *highest ? high : *highest;
  for (gsize b = from; b < to; b++) {
    *lowest = blocks[2 * b] < *lowest ? blocks[2 * b] : *lowest;
    *highest = blocks[2 * b + 1] > *highest ? blocks[2 * b + 1] : *highest;
  }
}

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
