/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Callouts: a ring on the point, a line to the label, the words on the chart's ground. */
#include "paint.h"

#define GROUND_ALPHA 0.94
#define EDGE_WIDTH   0.8
#define RING_RADIUS  2.1

static void
paint_callout (SbPaint *paint, const SbPlacedLabel *placed)
{
  const SbCalloutMark *mark = placed->callout;
  const SbRect *label = &placed->box;
  double x = placed->x, y = placed->y;
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
  if (placed->below)
    return;
  cairo_rectangle (cr, label->x, label->y, label->width, label->height);
  sb_paint_source (paint, (SbColour){ 1, 1, 1 }, GROUND_ALPHA);
  cairo_fill_preserve (cr);
  sb_paint_pen (paint, colour, 1, EDGE_WIDTH);
  cairo_stroke (cr);
  double font = paint->font_pt;
  sb_text_paint (paint, SB_TEXT_TICK, mark->text, placed->widest * font, SB_CALLOUT_LINES,
                 label->x + SB_CALLOUT_AIR * font, label->y + SB_CALLOUT_AIR * font / 2, 0);
}

void
sb_paint_callouts (SbPaint *paint, gsize i, SbChartLayout *layout)
{
  for (guint k = 0; paint->callouts != NULL && k < paint->callouts->len; k++) {
    const SbPlacedLabel *placed = &g_array_index (paint->callouts, SbPlacedLabel, k);
    const SbCalloutMark *mark = placed->callout;
    if (placed->panel != i)
      continue;
    paint_callout (paint, placed);
    if (layout != NULL && layout->n_callouts < SB_CHART_MAX_CALLOUTS)
      layout->callout[layout->n_callouts++]
          = (SbCalloutPlace){ mark->configuration, mark->index, i, placed->x, placed->y, placed->box, placed->below };
  }
}
