/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smallest and the largest values of long curves, kept for blocks of their points, so that a frame need not look at
 * all points again. Blocks of a few sizes: at every zoom there are some that fit into a slice of a pixel a few times.
 */
#pragma once

#include <glib.h>
#include <math.h>

#define SB_MOST_LANES 8

/* Smallest and largest of n values, NaN passed over; +inf and -inf when there is no number. They are compared `n_lanes`
 * side by side, a power of two and a constant, so that the compiler can use vector instructions: without it the
 * compares of a long curve wait for each other. Of few values more lanes take longer to get ready than they save. */
static inline __attribute__ ((always_inline)) void
sb_extremes_in_lanes (const double *y, gsize n, gsize n_lanes, double *lowest, double *highest)
{
  double low[SB_MOST_LANES], high[SB_MOST_LANES];
  for (gsize k = 0; k < n_lanes; k++) {
    low[k] = HUGE_VAL;
    high[k] = -HUGE_VAL;
  }
  /* A comparison with NaN is false, which passes it over. */
  for (; n >= n_lanes; n -= n_lanes, y += n_lanes)
    for (gsize k = 0; k < n_lanes; k++) {
      low[k] = y[k] < low[k] ? y[k] : low[k];
      high[k] = y[k] > high[k] ? y[k] : high[k];
    }
  for (; n > 0; n--, y++) {
    low[0] = *y < low[0] ? *y : low[0];
    high[0] = *y > high[0] ? *y : high[0];
  }
  for (gsize half = n_lanes / 2; half > 0; half /= 2)
    for (gsize k = 0; k < half; k++) {
      low[k] = low[k + half] < low[k] ? low[k + half] : low[k];
      high[k] = high[k + half] > high[k] ? high[k + half] : high[k];
    }
  *lowest = low[0];
  *highest = high[0];
}

/* Smallest and largest of y[first..end), NaN passed over; +inf and -inf when there is no number. */
void sb_extremes (const double *y, gsize first, gsize end, double *lowest, double *highest);

/* Level 0 has blocks of SB_BLOCK points, each next one blocks of SB_BLOCK_GROWTH of the level before. Points at the end
 * that fill no block are in none. Sizes are powers of two: their logarithms save divisions. */
#define SB_BLOCK        8
#define SB_BLOCK_GROWTH 2
#define SB_BLOCK_LEVELS 5

static inline int
sb_block_log2 (int level)
{
  return 3 + level;
}

typedef struct {
  const double *extremes[SB_BLOCK_LEVELS]; /* pairs: smallest, largest. Borrowed; all NULL: the curve is short */
} SbBlocks;

/* How many values sb_blocks_fill() needs room for. */
gsize sb_blocks_n_values (gsize n_points);

/* `room` is borrowed by what is returned. */
SbBlocks sb_blocks_fill (const double *y, gsize n_points, double *room);

/* As sb_extremes(), with the help of the blocks of y. */
void sb_extremes_of (const double *y, const SbBlocks *blocks, gsize first, gsize end, double *lowest, double *highest);
