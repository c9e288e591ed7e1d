/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smallest and the largest values of long curves, kept for blocks of their points, so that a frame need not look at
 * all points again. Blocks of a few sizes: at every zoom there are some that fit into a slice of a pixel a few times.
 */
#pragma once

#include <glib.h>

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
