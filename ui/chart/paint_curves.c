/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and bands. */
#include "paint.h"
#include "reduce.h"

#include <math.h>

#define MEAN_WIDTH      1.5
#define TRIAL_WIDTH     0.6
#define TRIAL_ALPHA     0.5
#define BAND_ALPHA      0.16
#define BAND_EDGE_ALPHA 0.5
#define BAND_EDGE_WIDTH 0.45

/* Columns of a picture without pixels: those of print at 300 dpi. */
#define VECTOR_COLUMN_PT 0.24

/* From this many pixels per pt on, about 150 dpi, and where points are packed more densely than this per column,
 * cairo's coarser antialiasing shows no difference and takes a third of the time. */
#define FINE_PX_PER_PT 2.0
#define DENSE          4.0

/* Points farther out than this, in pt, are drawn here: cairo counts in 24.8 bits. */
#define FARTHEST_PT 1e5

typedef struct {
  cairo_t *cr;
  SbAxisScale x, y;
  double stub;     /* half the length of the dash that stands for a lone point */
  guint n_in_line; /* points since the line's start */
  double last_x, last_y;
} Pen;

static double
y_at (const SbAxisScale *scale, double value)
{
  return CLAMP (sb_axis_scale_at (scale, value), -FARTHEST_PT, FARTHEST_PT);
}

static void
end_line (Pen *pen)
{
  if (pen->n_in_line == 1) {
    cairo_move_to (pen->cr, pen->last_x - pen->stub, pen->last_y);
    cairo_line_to (pen->cr, pen->last_x + pen->stub, pen->last_y);
  }
  pen->n_in_line = 0;
}

static void
draw_to (double x, double y, gboolean starts, gpointer user_data)
{
  Pen *pen = user_data;
  if (starts)
    end_line (pen);
  pen->last_x = sb_axis_scale_at (&pen->x, x);
  pen->last_y = y_at (&pen->y, y);
  if (pen->n_in_line == 0)
    cairo_move_to (pen->cr, pen->last_x, pen->last_y);
  else
    cairo_line_to (pen->cr, pen->last_x, pen->last_y);
  pen->n_in_line++;
}

static double
px_per_pt (cairo_t *cr)
{
  double across = 1, down = 0;
  cairo_user_to_device_distance (cr, &across, &down);
  return fmax (hypot (across, down), 1e-3);
}

static SbColumns
columns_of (cairo_t *cr, const SbPage *page)
{
  double width = page->plot[0].width;
  cairo_surface_t *surface = cairo_get_target (cr);
  gboolean has_pixels = cairo_surface_get_type (surface) == CAIRO_SURFACE_TYPE_IMAGE;
  double column = has_pixels ? 1 / px_per_pt (cr) : VECTOR_COLUMN_PT;
  return (SbColumns){ page->x_low, page->x_high, (gsize) fmax (1, ceil (width / column)) };
}

void
sb_paint_dash (SbPaint *paint, const SbStyle *style, double width)
{
  double dash[8];
  int n = MIN (style->n_dash, (int) G_N_ELEMENTS (dash));
  for (int i = 0; i < n; i++)
    dash[i] = style->dash[i] * width * paint->unit;
  cairo_set_dash (paint->cr, dash, n, 0);
}

static gboolean
is_dense (const SbCurve *curve, const SbPage *page, const SbColumns *columns)
{
  gsize first = sb_first_at_or_after (curve->x, curve->x0, curve->dx, curve->n_points, page->x_low);
  gsize end = sb_first_at_or_after (curve->x, curve->x0, curve->dx, curve->n_points, page->x_high);
  return (double) (end - first) > DENSE * (double) columns->n_columns;
}

static void
paint_curve (SbPaint *paint, const SbPage *page, gsize i, const SbCurve *curve, const SbColumns *columns)
{
  const SbStyle *style = sb_style_get (curve->style);
  double width = curve->thin ? TRIAL_WIDTH : MEAN_WIDTH;
  sb_paint_pen (paint, style->colour, curve->thin ? TRIAL_ALPHA : 1, width);
  if (!curve->thin)
    sb_paint_dash (paint, style, width);
  if (px_per_pt (paint->cr) >= FINE_PX_PER_PT || is_dense (curve, page, columns))
    cairo_set_antialias (paint->cr, CAIRO_ANTIALIAS_FAST);
  Pen pen = { .cr = paint->cr, .x = sb_page_x_scale (page), .y = sb_page_y_scale (page, i) };
  pen.stub = width * paint->unit / 2;
  double column_pt = page->plot[i].width / (double) columns->n_columns;
  double flat = 0.1 * column_pt / page->plot[i].height * (page->y_high[i] - page->y_low[i]);
  sb_reduce_curve (curve, columns, flat, draw_to, &pen);
  end_line (&pen);
  cairo_stroke (paint->cr);
  cairo_set_antialias (paint->cr, CAIRO_ANTIALIAS_DEFAULT);
}

void
sb_paint_curves (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbColumns columns = columns_of (paint->cr, page);
  for (guint k = 0; k < panel->curves->len; k++)
    paint_curve (paint, page, i, &g_array_index (panel->curves, SbCurve, k), &columns);
}

typedef struct {
  double x, lower, upper;
} Limits;

/* The stretch of a band up to its next break. */
typedef struct {
  SbPaint *paint;
  SbAxisScale x, y;
  SbColour colour;
  GArray *limits;
} BandPen;

static void
edge_path (const BandPen *pen, gboolean upper)
{
  for (guint k = 0; k < pen->limits->len; k++) {
    const Limits *at = &g_array_index (pen->limits, Limits, k);
    cairo_line_to (pen->paint->cr, at->x, upper ? at->upper : at->lower);
  }
}

static void
end_stretch (BandPen *pen)
{
  cairo_t *cr = pen->paint->cr;
  if (pen->limits->len < 2) {
    g_array_set_size (pen->limits, 0);
    return;
  }
  cairo_new_path (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_FAST);
  edge_path (pen, TRUE);
  for (guint k = pen->limits->len; k > 0; k--) {
    const Limits *at = &g_array_index (pen->limits, Limits, k - 1);
    cairo_line_to (cr, at->x, at->lower);
  }
  cairo_close_path (cr);
  cairo_set_source_rgba (cr, pen->colour.red, pen->colour.green, pen->colour.blue, BAND_ALPHA);
  cairo_fill (cr);
  sb_paint_pen (pen->paint, pen->colour, BAND_EDGE_ALPHA, BAND_EDGE_WIDTH);
  edge_path (pen, TRUE);
  cairo_stroke (cr);
  edge_path (pen, FALSE);
  cairo_stroke (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_DEFAULT);
  g_array_set_size (pen->limits, 0);
}

static void
widen_to (double x, double lower, double upper, gboolean starts, gpointer user_data)
{
  BandPen *pen = user_data;
  if (starts)
    end_stretch (pen);
  Limits limits = { sb_axis_scale_at (&pen->x, x), y_at (&pen->y, lower), y_at (&pen->y, upper) };
  g_array_append_val (pen->limits, limits);
}

void
sb_paint_bands (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbColumns columns = columns_of (paint->cr, page);
  g_autoptr (GArray) limits = g_array_new (FALSE, FALSE, sizeof (Limits));
  BandPen pen = { paint, sb_page_x_scale (page), sb_page_y_scale (page, i), { 0, 0, 0 }, limits };
  for (guint k = 0; k < panel->bands->len; k++) {
    const SbBandArea *band = &g_array_index (panel->bands, SbBandArea, k);
    pen.colour = sb_style_get (band->style)->colour;
    sb_reduce_band (band, &columns, widen_to, &pen);
    end_stretch (&pen);
  }
}
