/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart on the screen: painted by the painter that also writes the files, on white paper whatever the theme. The
 * wheel zooms the time around the pointer, a drag pans, a double click shows all; a reading line follows the pointer or
 * the arrow keys, and one of the curves is followed: points, callouts and marks are put on it. What a person does to
 * the document with it is chart_hand.h.
 *
 * Signals:
 *   "view-chosen" (double from_s, double to_s; NaN: all)   once the hand has come to rest, so that a turn of the wheel
 *                                                          is one step of the history
 *   "range-changed" ()                                     another time is shown
 *   "label-moved" (uint configuration, uint callout, double x, double y)   as SbCallout.label
 *   "mark-moved" (uint configuration, int edge, double to_s)   SbChartEdge; after the present onset
 *   "callout-activated" (uint configuration, uint callout)
 *   "points-changed" ()                                    by the hand; see sb_chart_view_points() */
#pragma once

#include "chart_painter.h"
#include "time_range.h"

#include <gtk/gtk.h>

#define SB_TYPE_CHART_VIEW (sb_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (SbChartView, sb_chart_view, SB, CHART_VIEW, GtkWidget)

/* An end of the active window. */
typedef enum {
  SB_EDGE_ONSET,
  SB_EDGE_END,
} SbChartEdge;

/* A point of a mean curve that is drawn; indices of the model. */
typedef struct {
  guint panel, configuration;
  double time_s, value;
} SbChartSpot;

GtkWidget *sb_chart_view_new (void);
/* Shows the model (transfer full; NULL: nothing yet) with the two points of `bench`, which the results behind the model
 * may not have followed yet. */
void sb_chart_view_set_model (SbChartView *view, SbChartModel *model, const SbBench *bench);
const SbChartModel *sb_chart_view_model (SbChartView *view); /* borrowed; may be NULL */

void sb_chart_view_fit (SbChartView *view);
void sb_chart_view_zoom (SbChartView *view, double factor); /* below 1: closer */

/* Two fingers came, with x_px between them, and have moved: `scale` times as far apart since. */
void sb_chart_view_begin_pinch (SbChartView *view, double x_px);
void sb_chart_view_pinch (SbChartView *view, double x_px, double scale);

/* FALSE: what is shown is not over time. */
gboolean sb_chart_view_get_range (SbChartView *view, SbTimeRange *range);
gboolean sb_chart_view_set_range (SbChartView *view, SbTimeRange range); /* as far as there are curves; FALSE likewise */
gboolean sb_chart_view_can_go (SbChartView *view, int direction); /* -1: back, 1: forward */
void sb_chart_view_go (SbChartView *view, int direction);

/* Where the reading line meets the curve that is followed; FALSE: nowhere. */
gboolean sb_chart_view_spot (SbChartView *view, SbChartSpot *spot);
void sb_chart_view_read_at (SbChartView *view, double time_s);
void sb_chart_view_follow (SbChartView *view, guint panel, guint configuration);
void sb_chart_view_follow_at (SbChartView *view, double x, double y); /* the nearest, and reads there */
void sb_chart_view_follow_next (SbChartView *view, int direction);
gboolean sb_chart_view_followed (SbChartView *view, guint *configuration); /* FALSE: no curve is drawn */

/* The two points between which differences are told: the first, the second, then anew. */
void sb_chart_view_put_point (SbChartView *view);
/* How many are put, on which configurations of the model. */
guint
sb_chart_view_points (SbChartView *view, guint configuration[SB_N_CHART_POINTS], SbChartPoint point[SB_N_CHART_POINTS]);
char *sb_chart_view_points_text (SbChartView *view); /* NULL: none are put. (transfer full) */

/* The callout that keys act on. */
gboolean sb_chart_view_chosen_callout (SbChartView *view, guint *configuration, guint *callout);
/* From its point to where its label stands, in sizes of axis numbers; FALSE: it is not painted. */
gboolean sb_chart_view_callout_label (SbChartView *view, double label[2]);
void sb_chart_view_choose_callout (SbChartView *view, guint configuration, guint callout);
gboolean sb_chart_view_choose_callout_at (SbChartView *view, double x, double y);
void sb_chart_view_choose_next_callout (SbChartView *view);

/* Where, in the widget, things are said about the reading line. */
GdkRectangle sb_chart_view_place (SbChartView *view);
