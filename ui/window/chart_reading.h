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

/* Times in the numbers of the axis, values with as many decimals as tell a thousandth of the axis apart, numbers with a
 * minus sign. (transfer full) */
char *sb_chart_reading_time (const SbChartModel *model, double time_s);
char *sb_chart_reading_value (const SbChartPanel *panel, double value);
char *sb_chart_reading_number (double value, int decimals);

/* Words in a box, kept within the widget. */
void sb_chart_reading_box (GtkWidget *widget, GtkSnapshot *snapshot, const char *text, double left, double top);
