/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which point of a spread or a sweep lies under the pointer, and what it is. */
#pragma once

#include "chart_painter.h"

/* The point nearest to x_pt, y_pt, when it is nearer than `reach_pt`; NULL: none. `panel` is filled. Borrowed. */
const SbPoint *sb_chart_point_at (const SbChartModel *model, const SbChartLayout *layout, double x_pt, double y_pt,
                                  double reach_pt, gsize *panel);

/* "Slope 2.0, run-3.csv: 1.998 N·m/ms". (transfer full) */
char *sb_chart_point_text (const SbChartModel *model, gsize panel, const SbPoint *point);
