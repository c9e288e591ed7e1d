/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paints a chart model on a cairo context: the screen, PNG, SVG and PDF all come from here, on the ground of the model.
 * Lengths are points (1/72 inch) at the printed size; the caller scales the context. */
#pragma once

#include "chart_model.h"

#include <cairo.h>

#define SB_CHART_MAX_PANELS   SB_N_MEASURES
#define SB_CHART_MAX_CALLOUTS 64 /* whose places are told */
#define SB_CHART_MAX_LABELS   64 /* likewise */
G_STATIC_ASSERT (SB_CHART_MAX_PANELS >= 2 * SB_N_PANELS);

/* Where things lie, in points from the top left; for pointer and zoom. */
typedef struct {
  double x, y, width, height;
} SbRect;

typedef struct {
  guint configuration, index; /* which of its callouts */
  gsize panel;
  double x, y; /* the point */
  SbRect label;
  gboolean below; /* its words are below the panels, and `label` is its ring */
} SbCalloutPlace;

/* A label as it stands: its point, and the box of its dash and words. */
typedef struct {
  gsize panel;
  double x, y;
  SbRect box;
} SbLabelPlace;

typedef struct {
  SbRect plot[SB_CHART_MAX_PANELS]; /* inside of the axes of panel i */
  gsize n_plots;
  double x_min, x_max;                                           /* times at the plots' left and right edges, s */
  double y_min[SB_CHART_MAX_PANELS], y_max[SB_CHART_MAX_PANELS]; /* values at the bottom and top edges; in a spread at
 the left and right ones */
  double font_pt;                                                /* of axis numbers, as painted */
  SbCalloutPlace callout[SB_CHART_MAX_CALLOUTS];
  gsize n_callouts;
  SbLabelPlace label[SB_CHART_MAX_LABELS];
  gsize n_labels;
  gsize n_below; /* labels that had no room, told in words below the panels */
} SbChartLayout;

/* Starts, in the background, what the first painting of a process waits for (the list of fonts). Of use when there is
 * other work to do first. */
void sb_chart_prepare (void);

/* Paints on width_pt x height_pt; font_pt is the size of axis numbers (8 is right for print). `layout` (may be NULL) is
 * filled. Curves of any length cost about as much as the pixels they cover. */
void sb_chart_paint (const SbChartModel *model, cairo_t *cr, double width_pt, double height_pt, double font_pt,
                     SbChartLayout *layout);

/* The callout whose label or point lies within reach_pt; NULL: none. Borrowed. */
const SbCalloutPlace *
sb_chart_layout_callout_at (const SbChartLayout *layout, double x_pt, double y_pt, double reach_pt);

double sb_chart_layout_time_at (const SbChartLayout *layout, double x_pt);
double sb_chart_layout_x_of (const SbChartLayout *layout, double time_s);
double sb_chart_layout_y_of (const SbChartLayout *layout, gsize panel, double value);
