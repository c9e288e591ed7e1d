/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "time_range.h"

#define SHORTEST_SHARE 1e-3

static double
length_of (SbTimeRange range)
{
  return range.to_s - range.from_s;
}

SbTimeRange
sb_time_range_pan (SbTimeRange range, SbTimeRange all, double by_s)
{
  double length = MIN (length_of (range), length_of (all));
  double from = CLAMP (range.from_s + by_s, all.from_s, all.to_s - length);
  return (SbTimeRange){ from, from + length };
}

SbTimeRange
sb_time_range_zoom (SbTimeRange range, SbTimeRange all, double centre_s, double factor)
{
  double share = CLAMP ((centre_s - range.from_s) / length_of (range), 0, 1);
  double length = CLAMP (length_of (range) * factor, length_of (all) * SHORTEST_SHARE, length_of (all));
  double from = centre_s - share * length;
  return sb_time_range_pan ((SbTimeRange){ from, from + length }, all, 0);
}

gboolean
sb_time_range_covers (SbTimeRange range, SbTimeRange all)
{
  double slack = length_of (all) * 1e-9;
  return range.from_s <= all.from_s + slack && range.to_s >= all.to_s - slack;
}
