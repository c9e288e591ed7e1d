/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Callouts: a ring on the point, a line to the label, the words on the chart's ground. A label stays within its panel,
 * and off its point. */
#include "paint.h"

#include <math.h>

/* In sizes of axis numbers. */
#define WIDEST 16.0
#define AIR    0.35
#define CLEAR  1.2

#define LINES        4
#define GROUND_ALPHA 0.94
#define EDGE_WIDTH   0.8
#define RING_RADIUS  2.1

static SbRect
place_label (SbPaint *paint, const SbRect *plot, const SbCalloutMark *mark, double x, double y)
{
  double font = paint->font_pt, width, height;
  sb_text_measure (paint, SB_TEXT_TICK, mark->text, WIDEST * font, LINES, &width, &height);
  SbRect label = { 0, 0, width + 2 * AIR * font, height + AIR * font };
  double right = plot->x + plot->width - label.width, bottom = plot->y + plot->height - label.height;
  label.x = CLAMP (x + mark->label[0] * font, plot->x, fmax (right, plot->x));
  label.y = CLAMP (y + mark->label[1] * font - label.height / 2, plot->y, fmax (bottom, plot->y));
  gboolean over = x > label.x && x < label.x + label.width && y > label.y && y < label.y + label.height;
  if (over) {
    double above = y - CLEAR * font - label.height;
    label.y = above >= plot->y ? above : fmin (y + CLEAR * font, fmax (bottom, plot->y));
  }
  return label;
}

static void
paint_callout (SbPaint *paint, const SbCalloutMark *mark, const SbRect *label, double x, double y)
{
  SbColour colour = sb_style_get (mark->style)->colour;
  cairo_t *cr = paint->cr;
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, CLAMP (x, label->x, label->x + label->width), CLAMP (y, label->y, label->y + label->height));
  sb_paint_pen (paint, sb_paint_ink, 1, EDGE_WIDTH);
  cairo_stroke (cr);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, RING_RADIUS * paint->unit, 0, 2 * G_PI);
  sb_paint_source (paint, (SbColour){ 1, 1, 1 }, 1);
  cairo_fill_preserve (cr);
  sb_paint_pen (paint, colour, 1, 1.3);
  cairo_stroke (cr);
  cairo_rectangle (cr, label->x, label->y, label->width, label->height);
  sb_paint_source (paint, (SbColour){ 1, 1, 1 }, GROUND_ALPHA);
  cairo_fill_preserve (cr);
  sb_paint_pen (paint, colour, 1, EDGE_WIDTH);
  cairo_stroke (cr);
  double font = paint->font_pt;
  sb_text_paint (paint, SB_TEXT_TICK, mark->text, WIDEST * font, LINES, label->x + AIR * font,
                 label->y + AIR * font / 2, 0);
}

SbRect
sb_paint_callout_box (SbPaint *paint, const SbPage *page, gsize i, const SbCalloutMark *mark, double *x, double *y)
{
  SbAxisScale along = sb_page_x_scale (page, i), up = sb_page_y_scale (page, i);
  *x = sb_paint_at (&along, mark->x);
  *y = sb_paint_at (&up, mark->y);
  return place_label (paint, &page->plot[i], mark, *x, *y);
}

void
sb_paint_callouts (SbPaint *paint, const SbPage *page, gsize i, SbChartLayout *layout)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  for (guint k = 0; k < panel->callouts->len; k++) {
    const SbCalloutMark *mark = &g_array_index (panel->callouts, SbCalloutMark, k);
    if (mark->x < page->x[i].low || mark->x > page->x[i].high)
      continue;
    double x, y;
    SbRect label = sb_paint_callout_box (paint, page, i, mark, &x, &y);
    paint_callout (paint, mark, &label, x, y);
    if (layout != NULL && layout->n_callouts < SB_CHART_MAX_CALLOUTS)
      layout->callout[layout->n_callouts++] = (SbCalloutPlace){ mark->configuration, mark->index, x, y, label };
  }
}
