/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points of repeats, means with their intervals, and the shapes that tell series apart. */
#include "paint.h"

#include <math.h>

#define POINT_RADIUS 1.9
#define POINT_ALPHA  0.45
#define EDGE_WIDTH   0.7
#define MEAN_RADIUS  3.1
#define RING_RADIUS  4.2 /* of a mean on its repeats, which are seen within it */
#define RING_WIDTH   1.2
#define BAR_WIDTH    1.5
#define CAP_LENGTH   2.4 /* half, units */
#define DOUBT_GAP    1.0
#define ORDER_WIDTH  0.6
#define ORDER_ALPHA  0.6

/* The mean's shape where there are no series: another than the points'. */
#define DIAMOND 3

typedef struct {
  SbPaint *paint;
  const SbAxisScale *at, *value;
  gboolean across;
} Place;

typedef struct {
  double x, y;
} Spot;

static Spot
spot_of (const Place *place, double at, double value, double aside)
{
  double along = sb_paint_at (place->at, at) + aside * place->paint->font_pt, up = sb_paint_at (place->value, value);
  return place->across ? (Spot){ up, along } : (Spot){ along, up };
}

static void
polygon (cairo_t *cr, const double (*corners)[2], gsize n, double x, double y, double radius)
{
  for (gsize i = 0; i < n; i++)
    cairo_line_to (cr, x + radius * corners[i][0], y + radius * corners[i][1]);
  cairo_close_path (cr);
}

/* Of about the same area. */
void
sb_paint_shape (cairo_t *cr, guint series, double x, double y, double radius)
{
  static const double square[][2] = { { -0.88, -0.88 }, { 0.88, -0.88 }, { 0.88, 0.88 }, { -0.88, 0.88 } };
  static const double triangle[][2] = { { 0, -1.25 }, { 1.15, 0.8 }, { -1.15, 0.8 } };
  static const double diamond[][2] = { { 0, -1.3 }, { 1.3, 0 }, { 0, 1.3 }, { -1.3, 0 } };
  static const double cross[][2]
      = { { 0, -0.45 }, { 0.75, -1.2 }, { 1.2, -0.75 }, { 0.45, 0 },  { 1.2, 0.75 },   { 0.75, 1.2 },
          { 0, 0.45 },  { -0.75, 1.2 }, { -1.2, 0.75 }, { -0.45, 0 }, { -1.2, -0.75 }, { -0.75, -1.2 } };
  cairo_new_path (cr);
  switch (series % SB_N_SHAPES) {
  case 1:
    polygon (cr, square, G_N_ELEMENTS (square), x, y, radius);
    break;
  case 2:
    polygon (cr, triangle, G_N_ELEMENTS (triangle), x, y, radius);
    break;
  case DIAMOND:
    polygon (cr, diamond, G_N_ELEMENTS (diamond), x, y, radius);
    break;
  case 4:
    polygon (cr, cross, G_N_ELEMENTS (cross), x, y, radius);
    break;
  default:
    cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
    cairo_close_path (cr);
  }
}

static void
paint_point (const Place *place, const SbPoint *point)
{
  static const SbColour white = { 1, 1, 1 };
  SbPaint *paint = place->paint;
  SbColour colour = sb_style_get (point->style)->colour, inside = point->hollow ? white : colour;
  Spot spot = spot_of (place, point->at, point->value, point->aside);
  sb_paint_shape (paint->cr, point->series, spot.x, spot.y, POINT_RADIUS * paint->unit);
  sb_paint_source (paint, inside, point->hollow ? 1 : POINT_ALPHA);
  cairo_fill_preserve (paint->cr);
  sb_paint_pen (paint, colour, 1, EDGE_WIDTH);
  cairo_stroke (paint->cr);
}

/* From repeat to repeat, those that count. */
static void
paint_order (const Place *place, const GArray *points)
{
  const SbPoint *before = NULL;
  for (guint i = 0; i < points->len; i++) {
    const SbPoint *point = &g_array_index (points, SbPoint, i);
    if (point->hollow)
      continue;
    if (before != NULL && before->configuration == point->configuration) {
      Spot a = spot_of (place, before->at, before->value, before->aside);
      Spot b = spot_of (place, point->at, point->value, point->aside);
      cairo_move_to (place->paint->cr, a.x, a.y);
      cairo_line_to (place->paint->cr, b.x, b.y);
      sb_paint_pen (place->paint, sb_style_get (point->style)->colour, ORDER_ALPHA, ORDER_WIDTH);
      cairo_stroke (place->paint->cr);
    }
    before = point;
  }
}

static void
paint_interval (const Place *place, const SbMeanMark *mark)
{
  cairo_t *cr = place->paint->cr;
  double cap = CAP_LENGTH * place->paint->unit, ends[] = { mark->low, mark->high };
  Spot spot[2];
  for (int e = 0; e < 2; e++) {
    spot[e] = spot_of (place, mark->at, ends[e], 0);
    cairo_move_to (cr, spot[e].x - (place->across ? 0 : cap), spot[e].y - (place->across ? cap : 0));
    cairo_line_to (cr, spot[e].x + (place->across ? 0 : cap), spot[e].y + (place->across ? cap : 0));
  }
  cairo_move_to (cr, spot[0].x, spot[0].y);
  cairo_line_to (cr, spot[1].x, spot[1].y);
  sb_paint_pen (place->paint, sb_style_get (mark->style)->colour, 1, BAR_WIDTH);
  cairo_stroke (cr);
}

void
sb_paint_ring (SbPaint *paint, guint series, SbColour colour, double x, double y)
{
  sb_paint_shape (paint->cr, series, x, y, RING_RADIUS * paint->unit);
  sb_paint_pen (paint, colour, 1, RING_WIDTH);
  cairo_stroke (paint->cr);
}

/* Beside what is in doubt, as behind its figure in the table. */
static void
paint_doubt (const Place *place, double at, double value, double aside)
{
  SbPaint *paint = place->paint;
  Spot spot = spot_of (place, at, value, aside);
  double away = (RING_RADIUS + DOUBT_GAP) * paint->unit;
  SbRect box = { spot.x + away, spot.y, 0, 0 };
  sb_text_measure (paint, SB_TEXT_TICK, "?", 0, 1, &box.width, &box.height);
  if (place->across)
    box.y -= box.height / 2;
  else if (spot.y - box.height >= place->value->at_high) /* in a sweep trends go on to the right */
    box.y -= box.height;
  sb_text_paint_on_ground (paint, SB_TEXT_TICK, "?", &box, 0);
}

static void
paint_mean (const Place *place, const SbMeanMark *mark)
{
  SbPaint *paint = place->paint;
  SbColour colour = sb_style_get (mark->style)->colour;
  Spot spot = spot_of (place, mark->at, mark->mean, 0);
  if (!isnan (mark->low))
    paint_interval (place, mark);
  if (!place->across) {
    sb_paint_ring (paint, mark->series, colour, spot.x, spot.y);
    return;
  }
  sb_paint_shape (paint->cr, DIAMOND, spot.x, spot.y, 0.85 * MEAN_RADIUS * paint->unit);
  sb_paint_source (paint, colour, 1);
  cairo_fill_preserve (paint->cr);
  sb_paint_pen (paint, sb_paint_ink, 1, EDGE_WIDTH);
  cairo_stroke (paint->cr);
}

void
sb_paint_points (SbPaint *paint, gsize i, const SbAxisScale *at, const SbAxisScale *value, gboolean across)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  Place place = { paint, at, value, across };
  if (across && paint->model->analysis->bench->chart.in_order)
    paint_order (&place, panel->points);
  for (guint k = 0; k < panel->points->len; k++)
    paint_point (&place, &g_array_index (panel->points, SbPoint, k));
  for (guint k = 0; k < panel->means->len; k++)
    paint_mean (&place, &g_array_index (panel->means, SbMeanMark, k));
  for (guint k = 0; k < panel->points->len; k++) {
    const SbPoint *point = &g_array_index (panel->points, SbPoint, k);
    if (point->doubted)
      paint_doubt (&place, point->at, point->value, point->aside);
  }
  for (guint k = 0; k < panel->means->len; k++) {
    const SbMeanMark *mark = &g_array_index (panel->means, SbMeanMark, k);
    if (mark->doubted)
      paint_doubt (&place, mark->at, across && !isnan (mark->high) ? mark->high : mark->mean, 0);
  }
}
