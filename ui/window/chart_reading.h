/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reading line over a chart: a time, and the value of every drawn mean curve at it. Shown over the picture,
 * never part of it. */
#pragma once

#include "chart_painter.h"

#include <gtk/gtk.h>

/* `px_per_pt` takes the layout's points to the widget's pixels. */
void sb_chart_reading_snapshot (GtkWidget *widget, GtkSnapshot *snapshot, const SbChartModel *model,
                                const SbChartLayout *layout, double px_per_pt, double time_s);

/* The same in words: "At 12.3 ms. Torque [N·m]: Slope 0.3 4.51, ...". (transfer full) */
char *sb_chart_reading_describe (const SbChartModel *model, double time_s);
