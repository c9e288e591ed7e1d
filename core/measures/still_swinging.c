/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "still_swinging.h"

#include <math.h>

#define FALL_SHARE  0.2
#define AGAIN_SHARE 0.05
#define SWING_SHARE 0.1
/* Noise alone reaches no farther than so many standard deviations either way. */
#define NOISES 4
/* Passages of the middle of the quarter that a cycle and a half has. */
#define ENOUGH_PASSAGES 3

typedef struct {
  double least, most;
} Range;

static Range
range_of (const double *y, gsize first, gsize last)
{
  Range range = { y[first], y[first] };
  for (gsize i = first + 1; i <= last; i++) {
    range.least = fmin (range.least, y[i]);
    range.most = fmax (range.most, y[i]);
  }
  return range;
}

/* From beyond a quarter of the range on one side of its middle to beyond that on the other. */
static gsize
count_passages (const double *y, gsize first, gsize last, Range range)
{
  double middle = (range.least + range.most) / 2, quarter = (range.most - range.least) / 4;
  int side = 0;
  gsize n = 0;
  for (gsize i = first; i <= last; i++) {
    int now = y[i] > middle + quarter ? 1 : y[i] < middle - quarter ? -1 : side;
    n += now != side && side != 0 ? 1 : 0;
    side = now;
  }
  return n;
}

double
sb_still_swinging (const double *y, gsize first, gsize last, gsize peak, double base, double noise)
{
  double height = y[peak] - base, reach = noise > 0 ? 2 * NOISES * noise : 0;
  gsize lowest = peak, from = last - (last - first) / 4;
  for (gsize i = peak; i <= last; i++)
    if (y[i] < y[lowest])
      lowest = i;
  double up = range_of (y, lowest, last).most - y[lowest];
  if (!(y[peak] - y[lowest] > FALL_SHARE * height + reach) || !(up > AGAIN_SHARE * height + reach))
    return 0;
  Range quarter = range_of (y, from, last);
  double swing = quarter.most - quarter.least;
  if (!(swing > SWING_SHARE * height + reach) || count_passages (y, from, last, quarter) >= ENOUGH_PASSAGES)
    return 0;
  return swing;
}
