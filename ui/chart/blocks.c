/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"

#include <math.h>

/* Of a long curve. */
#define N_LANES 8

void
sb_extremes (const double *y, gsize first, gsize end, double *lowest, double *highest)
{
  sb_extremes_in_lanes (y + first, end - first, N_LANES, lowest, highest);
}

gsize
sb_blocks_n_values (gsize n_points)
{
  gsize n = 0;
  for (int level = 0; level < SB_BLOCK_LEVELS; level++)
    n += 2 * (n_points >> sb_block_log2 (level));
  return n;
}

/* Each block of a level from as many of the level below, which are pairs in the same order. */
static void
fill_level (const double *below, double *pairs, gsize n_blocks)
{
  for (gsize b = 0; b < n_blocks; b++) {
    const double *from = below + 2 * SB_BLOCK_GROWTH * b;
    double low = from[0], high = from[1];
    for (int k = 1; k < SB_BLOCK_GROWTH; k++) {
      low = from[2 * k] < low ? from[2 * k] : low;
      high = from[2 * k + 1] > high ? from[2 * k + 1] : high;
    }
    pairs[2 * b] = low;
    pairs[2 * b + 1] = high;
  }
}

SbBlocks
sb_blocks_fill (const double *y, gsize n_points, double *room)
{
  SbBlocks blocks = { { room } };
  for (gsize b = 0; b < n_points / SB_BLOCK; b++)
    sb_extremes (y, b * SB_BLOCK, (b + 1) * SB_BLOCK, &room[2 * b], &room[2 * b + 1]);
  for (int level = 1; level < SB_BLOCK_LEVELS; level++) {
    double *below = room;
    room += 2 * (n_points >> sb_block_log2 (level - 1));
    fill_level (below, room, n_points >> sb_block_log2 (level));
    blocks.extremes[level] = room;
  }
  return blocks;
}

/* The blocks of the level that lie in between; what is left at either end by the level below. */
static void
extremes_by (const double *y, const SbBlocks *blocks, int level, gsize first, gsize end, double *lowest,
             double *highest)
{
  if (level < 0) {
    sb_extremes (y, first, end, lowest, highest);
    return;
  }
  int log2 = sb_block_log2 (level);
  gsize from = (first + ((gsize) 1 << log2) - 1) >> log2, to = end >> log2;
  if (to <= from) {
    extremes_by (y, blocks, level - 1, first, end, lowest, highest);
    return;
  }
  double low, high;
  const double *pairs = blocks->extremes[level];
  extremes_by (y, blocks, level - 1, first, from << log2, lowest, highest);
  extremes_by (y, blocks, level - 1, to << log2, end, &low, &high);
  for (gsize b = from; b < to; b++) {
    low = pairs[2 * b] < low ? pairs[2 * b] : low;
    high = pairs[2 * b + 1] > high ? pairs[2 * b + 1] : high;
  }
  *lowest = low < *lowest ? low : *lowest;
  *highest = high > *highest ? high : *highest;
}

void
sb_extremes_of (const double *y, const SbBlocks *blocks, gsize first, gsize end, double *lowest, double *highest)
{
  extremes_by (y, blocks, blocks->extremes[0] != NULL ? SB_BLOCK_LEVELS - 1 : -1, first, end, lowest, highest);
}
