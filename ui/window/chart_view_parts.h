/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart on the screen, taken apart: for the files chart_view*.c only. */
#pragma once

#include "chart_view.h"
#include "zoom_history.h"

#define SB_PX_PER_PT (96.0 / 72.0)
#define SB_NOTHING   G_MAXUINT

typedef enum {
  SB_DRAG_NOTHING,
  SB_DRAG_TIME,
  SB_DRAG_LABEL,
  SB_DRAG_EDGE,
} SbChartDragKind;

typedef struct {
  SbChartDragKind kind;
  SbTimeRange range; /* shown when it began */
  guint configuration, callout;
  double label[2];
  SbChartEdge edge;
  double edge_s; /* where it is now */
} SbChartDrag;

struct _SbChartView {
  GtkWidget parent_instance;
  SbChartModel *model; /* this view's own: its time range is moved while the hand moves */
  SbTimeRange all;     /* what the curves cover */
  SbChartLayout layout;
  GdkTexture *picture; /* NULL: none was painted yet */
  gboolean stale;      /* it is not of what is to be shown now */
  gboolean is_painting;
  guint wanted;     /* counts the pictures asked for */
  double reading_s; /* NaN: no reading line */
  double pointer_x, pointer_y;
  gboolean has_pointer;
  SbChartDrag drag;
  double pinched_s, pinched_px; /* the time between the fingers when they came, and where it was */
  SbTimeRange pending;          /* moved to, not yet chosen */
  gboolean is_pending;
  guint rest_source;
  SbZoomHistory *history;
  guint panel, configuration; /* of the curve that is followed; SB_NOTHING: none yet */
  SbChartSpot point[2];
  guint n_points;
  guint callout_of, callout; /* the chosen one; SB_NOTHING: none */
};

typedef enum {
  SB_CHART_VIEW_CHOSEN,
  SB_CHART_RANGE_CHANGED,
  SB_CHART_LABEL_MOVED,
  SB_CHART_MARK_MOVED,
  SB_CHART_CALLOUT_ACTIVATED,
  SB_CHART_POINTS_CHANGED,
  SB_CHART_N_SIGNALS,
} SbChartSignal;

void sb_chart_view_emit (SbChartView *view, SbChartSignal which, ...);

/* chart_view.c */
gboolean sb_chart_view_has_chart (const SbChartView *view);
gboolean sb_chart_view_has_time (const SbChartView *view);    /* of what is drawn over time there is a range to move */
gboolean sb_chart_view_is_laid_out (const SbChartView *view); /* and it has been painted */
void sb_chart_view_describe (SbChartView *view);

/* chart_view_picture.c */
void sb_chart_view_repaint (SbChartView *view); /* the picture shows something else now */
void sb_chart_view_snapshot_picture (SbChartView *view, GtkSnapshot *snapshot, int width, int height);

/* chart_view_range.c */
double sb_chart_view_time_at (const SbChartView *view, double x_px);
double sb_chart_view_x_of (const SbChartView *view, double time_s); /* px */
double sb_chart_view_seconds_per_px (const SbChartView *view);
SbTimeRange sb_chart_view_shown (const SbChartView *view);
void sb_chart_view_take_range (SbChartView *view); /* a new model came */
void sb_chart_view_move_to (SbChartView *view, SbTimeRange range);
void sb_chart_view_pan (SbChartView *view, double by_s);
void sb_chart_view_zoom_at (SbChartView *view, SbTimeRange range, double centre_s, double factor);
void sb_chart_view_rest (SbChartView *view); /* the hand rests: what is shown is chosen */

/* chart_view_points.c; `old` may be NULL */
void sb_chart_view_carry_over (SbChartView *view, const SbChartModel *old, const SbBench *bench);
gboolean sb_chart_view_clear_points (SbChartView *view); /* FALSE: there were none */
void sb_chart_view_snapshot_points (SbChartView *view, GtkSnapshot *snapshot);

/* chart_view_edges.c */
gboolean sb_chart_view_edge_at (SbChartView *view, double x_px, double y_px, SbChartEdge *edge);
double sb_chart_view_edge_time (SbChartView *view, SbChartEdge edge); /* NaN: it has no such edge */
void sb_chart_view_snapshot_edges (SbChartView *view, GtkSnapshot *snapshot);

/* chart_view_hands.c: wheel, pinch, drag, pointer and keys. */
void sb_chart_view_add_hands (SbChartView *view);
