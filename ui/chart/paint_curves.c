/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mean curves, the lines of single trials, fitted models. */
#include "paint.h"
#include "sleeve.h"

#include <math.h>

#define MEAN_WIDTH  1.5
#define TRIAL_WIDTH 0.6
#define TRIAL_ALPHA 0.5
#define FIT_WIDTH   0.9

/* Opacity of what is dimmed. */
#define FAINT 0.28

/* Points of a path nearer than this, in pixels, are one. */
#define CLOSEST 0.4

/* From this many pixels per pt on, about 150 dpi, and where points are packed more densely than this per column,
 * cairo's coarser antialiasing shows no difference and takes a third of the time. */
#define FINE_PX_PER_PT 2.0
#define DENSE          4.0

/* A line that goes up and down by more than this many times the plot's width is a stretch of noise, and dashes in it
 * would be specks. */
#define RESTLESS 6.0

static const double fit_dash[] = { 4.5, 3 };
static const SbStyle fit_style = { .dash = fit_dash, .n_dash = G_N_ELEMENTS (fit_dash) };

typedef struct {
  cairo_t *cr;
  SbAxisScale x, y;
  double half_dash; /* half the length of the dash that stands for a lone point */
  guint n_in_line;  /* points since the line's start */
  SbSleeve sleeve;
  double travel; /* up and down so far, pt */
} Pen;

static void
end_line (Pen *pen)
{
  double x = pen->sleeve.last_x, y = pen->sleeve.last_y;
  if (pen->n_in_line == 1) {
    cairo_move_to (pen->cr, x - pen->half_dash, y);
    cairo_line_to (pen->cr, x + pen->half_dash, y);
  } else if (pen->n_in_line > 1) {
    cairo_line_to (pen->cr, x, y);
  }
  pen->n_in_line = 0;
}

static void
draw_to (double x, double y, gboolean starts, gpointer user_data)
{
  Pen *pen = user_data;
  if (starts)
    end_line (pen);
  double at_x = sb_axis_scale_at (&pen->x, x), at_y = sb_paint_at (&pen->y, y), draw_x, draw_y;
  double from_y = pen->sleeve.anchor_y;
  if (pen->n_in_line == 0) {
    cairo_move_to (pen->cr, at_x, at_y);
    sb_sleeve_start (&pen->sleeve, at_x, at_y);
  } else if (sb_sleeve_add (&pen->sleeve, at_x, at_y, &draw_x, &draw_y)) {
    pen->travel += fabs (draw_y - from_y);
    cairo_line_to (pen->cr, draw_x, draw_y);
  }
  pen->n_in_line++;
}

void
sb_paint_dash (SbPaint *paint, const SbStyle *style, double width)
{
  double dash[SB_MAX_DASH];
  int n = MIN (style->n_dash, (int) G_N_ELEMENTS (dash));
  for (int i = 0; i < n; i++)
    dash[i] = style->dash[i] * width * paint->unit;
  cairo_set_dash (paint->cr, dash, n, 0);
}

void
sb_paint_sample (SbPaint *paint, const SbStyle *style, double width, double x, double y, double length)
{
  double scale = sb_style_sample_scale (style, length / (width * paint->unit));
  sb_paint_dash (paint, style, width * scale);
  cairo_move_to (paint->cr, x, y);
  cairo_rel_line_to (paint->cr, length, 0);
  cairo_stroke (paint->cr);
}

/* Every point but those that fall on the one before: where x turns back no column can stand for several. */
static void
follow_path (const SbCurve *curve, Pen *pen, double closest_pt)
{
  double last_x = NAN, last_y = NAN;
  for (gsize i = 0; i < curve->n_points; i++) {
    double x = sb_paint_at (&pen->x, curve->x[i]), y = sb_paint_at (&pen->y, curve->y[i]);
    if (isnan (x) || isnan (y)) {
      last_x = NAN;
      continue;
    }
    if (isnan (last_x))
      cairo_move_to (pen->cr, x, y);
    else if (i + 1 < curve->n_points && hypot (x - last_x, y - last_y) < closest_pt)
      continue;
    else
      cairo_line_to (pen->cr, x, y);
    last_x = x;
    last_y = y;
  }
}

double
sb_paint_faintness (const SbPaint *paint, const SbChartPanel *panel, guint configuration)
{
  return !panel->difference && sb_chart_model_is_dimmed (paint->model, configuration) ? FAINT : 1;
}

static gboolean
is_dense (const SbCurve *curve, const SbColumns *columns)
{
  gsize first = sb_first_at_or_after (curve->x, curve->x0, curve->dx, curve->n_points, columns->from);
  gsize end = sb_first_at_or_after (curve->x, curve->x0, curve->dx, curve->n_points, columns->to);
  return (double) (end - first) > DENSE * (double) columns->n_columns;
}

static void
paint_curve (SbPaint *paint, const SbPage *page, gsize i, const SbCurve *curve, const SbColumns *columns)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  double faint = sb_paint_faintness (paint, panel, curve->configuration);
  const SbStyle *style = sb_style_get (curve->style);
  double width = curve->fit ? FIT_WIDTH : curve->thin ? TRIAL_WIDTH : MEAN_WIDTH;
  sb_paint_pen (paint, curve->fit ? sb_paint_ink : style->colour,
                faint * (curve->thin && !curve->fit ? TRIAL_ALPHA : 1), width);
  const SbStyle *dash = curve->fit ? &fit_style : curve->thin ? NULL : style;
  if (!panel->is_path && sb_paint_ink_curve (paint, page, i, curve, width, dash, RESTLESS))
    return;
  if (sb_paint_px_per_pt (paint->cr) >= FINE_PX_PER_PT || is_dense (curve, columns))
    cairo_set_antialias (paint->cr, CAIRO_ANTIALIAS_FAST);
  Pen pen = { .cr = paint->cr, .x = sb_page_x_scale (page, i), .y = sb_page_y_scale (page, i) };
  pen.half_dash = width * paint->unit / 2;
  pen.sleeve.tolerance = sb_paint_tolerance (paint->cr);
  double column_pt = page->plot[i].width / (double) columns->n_columns;
  double flat = 0.1 * column_pt / page->plot[i].height * (page->y_high[i] - page->y_low[i]);
  if (panel->is_path)
    follow_path (curve, &pen, CLOSEST / sb_paint_px_per_pt (paint->cr));
  else
    sb_reduce_curve (curve, columns, flat, draw_to, &pen);
  end_line (&pen);
  if (dash != NULL && pen.travel < RESTLESS * page->plot[i].width)
    sb_paint_dash (paint, dash, width);
  cairo_stroke (paint->cr);
  cairo_set_antialias (paint->cr, CAIRO_ANTIALIAS_DEFAULT);
}

void
sb_paint_curves (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbColumns columns = sb_paint_columns (paint->cr, page, i);
  for (int front = 0; front < 2; front++)
    for (guint k = 0; k < panel->curves->len; k++) {
      const SbCurve *curve = &g_array_index (panel->curves, SbCurve, k);
      gboolean faint = sb_paint_faintness (paint, panel, curve->configuration) < 1;
      if (faint == (front == 0))
        paint_curve (paint, page, i, curve, &columns);
    }
}
