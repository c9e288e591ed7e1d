/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stretch of time a chart shows, and how zooming and panning move it within what there is. All in s. */
#pragma once

#include <glib.h>

typedef struct {
  double from_s, to_s; /* from < to */
} SbTimeRange;

/* `range` with its length times `factor` and `centre_s` where it was on the chart, kept within `all` and no shorter
 * than a thousandth of it. */
SbTimeRange sb_time_range_zoom (SbTimeRange range, SbTimeRange all, double centre_s, double factor);

/* `range` moved by `by_s`, as far as `all` reaches. */
SbTimeRange sb_time_range_pan (SbTimeRange range, SbTimeRange all, double by_s);

/* Whether `range` shows all there is. */
gboolean sb_time_range_covers (SbTimeRange range, SbTimeRange all);
