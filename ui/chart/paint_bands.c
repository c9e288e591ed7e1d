/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bands: translucent, with a thin edge, so that two that overlap can both be followed. */
#include "paint.h"
#include "sleeve.h"

#define BAND_ALPHA 0.16
#define EDGE_ALPHA 0.5
#define EDGE_WIDTH 0.45

typedef struct {
  double x, y;
} Point;

/* One side of a band, from its last break on. */
typedef struct {
  SbSleeve sleeve;
  GArray *points; /* Point */
} Edge;

typedef struct {
  SbPaint *paint;
  SbAxisScale x, y;
  SbColour colour;
  double faint;
  Edge upper, lower;
} BandPen;

static void
append_point (GArray *points, double x, double y)
{
  Point point = { x, y };
  g_array_append_val (points, point);
}

static void
extend_edge (Edge *edge, double x, double y)
{
  double draw_x, draw_y;
  if (edge->points->len == 0) {
    append_point (edge->points, x, y);
    sb_sleeve_start (&edge->sleeve, x, y);
  } else if (sb_sleeve_add (&edge->sleeve, x, y, &draw_x, &draw_y)) {
    append_point (edge->points, draw_x, draw_y);
  }
}

static void
end_edge (Edge *edge)
{
  if (edge->points->len > 0 && edge->sleeve.is_pending)
    append_point (edge->points, edge->sleeve.last_x, edge->sleeve.last_y);
}

static void
edge_path (cairo_t *cr, const Edge *edge, gboolean backwards)
{
  for (guint k = 0; k < edge->points->len; k++) {
    const Point *at = &g_array_index (edge->points, Point, backwards ? edge->points->len - 1 - k : k);
    cairo_line_to (cr, at->x, at->y);
  }
}

static void
paint_stretch (BandPen *pen)
{
  cairo_t *cr = pen->paint->cr;
  cairo_new_path (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_FAST);
  edge_path (cr, &pen->upper, FALSE);
  edge_path (cr, &pen->lower, TRUE);
  cairo_close_path (cr);
  sb_paint_source (pen->paint, pen->colour, pen->faint * BAND_ALPHA);
  cairo_fill (cr);
  sb_paint_pen (pen->paint, pen->colour, pen->faint * EDGE_ALPHA, EDGE_WIDTH);
  edge_path (cr, &pen->upper, FALSE);
  cairo_stroke (cr);
  edge_path (cr, &pen->lower, FALSE);
  cairo_stroke (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_DEFAULT);
}

static void
end_stretch (BandPen *pen)
{
  end_edge (&pen->upper);
  end_edge (&pen->lower);
  if (pen->upper.points->len > 1)
    paint_stretch (pen);
  g_array_set_size (pen->upper.points, 0);
  g_array_set_size (pen->lower.points, 0);
}

static void
widen_to (double x, double lower, double upper, gboolean starts, gpointer user_data)
{
  BandPen *pen = user_data;
  if (starts)
    end_stretch (pen);
  double at_x = sb_axis_scale_at (&pen->x, x);
  extend_edge (&pen->upper, at_x, sb_paint_at (&pen->y, upper));
  extend_edge (&pen->lower, at_x, sb_paint_at (&pen->y, lower));
}

void
sb_paint_bands (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbColumns columns = sb_paint_columns (paint->cr, page, i);
  g_autoptr (GArray) upper = g_array_new (FALSE, FALSE, sizeof (Point));
  g_autoptr (GArray) lower = g_array_new (FALSE, FALSE, sizeof (Point));
  BandPen pen = { .paint = paint, .x = sb_page_x_scale (page, i), .y = sb_page_y_scale (page, i) };
  pen.upper = (Edge){ { .tolerance = sb_paint_tolerance (paint->cr) }, upper };
  pen.lower = (Edge){ { .tolerance = sb_paint_tolerance (paint->cr) }, lower };
  for (guint k = 0; k < panel->bands->len; k++) {
    const SbBandArea *band = &g_array_index (panel->bands, SbBandArea, k);
    pen.colour = sb_style_get (band->style)->colour;
    pen.faint = sb_paint_faintness (paint, panel, band->configuration);
    SbBandInk look = { pen.colour, pen.faint * BAND_ALPHA, pen.faint * EDGE_ALPHA, EDGE_WIDTH };
    if (sb_paint_ink_band (paint, page, i, band, &look))
      continue;
    sb_reduce_band (band, &columns, widen_to, &pen);
    end_stretch (&pen);
  }
}
