/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart on the screen: painted by the painter that also writes the files, on white paper whatever the theme. The
 * wheel zooms the time around the pointer, a drag pans, a double click shows all; a reading line follows the pointer or
 * the arrow keys.
 *
 * Signal: "view-chosen" (double from_s, double to_s; NaN: all) once the hand has come to rest, so that a turn of the
 * wheel is one step of the history. */
#pragma once

#include "chart_model.h"

#include <gtk/gtk.h>

#define SB_TYPE_CHART_VIEW (sb_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (SbChartView, sb_chart_view, SB, CHART_VIEW, GtkWidget)

GtkWidget *sb_chart_view_new (void);
void sb_chart_view_set_model (SbChartView *view, SbChartModel *model); /* (transfer full); NULL: nothing yet */
void sb_chart_view_fit (SbChartView *view);
void sb_chart_view_zoom (SbChartView *view, double factor); /* below 1: closer */
