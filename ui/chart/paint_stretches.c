/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches of time in which a difference leaves zero: shaded, with a bar along the top that holds in grey print, and
 * numbered where there is room. */
#include "paint.h"

#include <math.h>

#define BAR_WIDTH 2.2
#define THINNEST  0.6 /* units: a stretch of one instant is seen too */

static const SbColour shade = { 0.945, 0.945, 0.915 };

typedef struct {
  double left, right;
} Span;

/* FALSE: outside of what is shown. */
static gboolean
span_of (SbPaint *paint, const SbPage *page, gsize i, const SbTimeStretch *stretch, Span *span)
{
  const SbRect *plot = &page->plot[i];
  SbAxisScale x = sb_page_x_scale (page, i);
  double half = THINNEST * paint->unit / 2;
  span->left = fmax (sb_paint_at (&x, stretch->from_s) - half, plot->x);
  span->right = fmin (sb_paint_at (&x, stretch->to_s) + half, plot->x + plot->width);
  return span->right > span->left;
}

static void
paint_number (SbPaint *paint, const SbPage *page, gsize i, const SbTimeStretch *stretch, const Span *span)
{
  double width, height, bar = BAR_WIDTH * paint->unit;
  g_autofree char *number = g_strdup_printf ("%u", stretch->number);
  sb_text_measure (paint, SB_TEXT_FOOT, number, 0, 1, &width, &height);
  if (span->right - span->left > 1.4 * width)
    sb_text_paint (paint, SB_TEXT_FOOT, number, 0, 1, (span->left + span->right) / 2, page->plot[i].y + bar, 0.5);
}

void
sb_paint_stretches (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  const SbRect *plot = &page->plot[i];
  double bar = BAR_WIDTH * paint->unit;
  for (guint k = 0; k < panel->stretches->len; k++) {
    const SbTimeStretch *stretch = &g_array_index (panel->stretches, SbTimeStretch, k);
    Span span;
    if (!span_of (paint, page, i, stretch, &span))
      continue;
    sb_paint_source (paint, shade, 1);
    cairo_rectangle (paint->cr, span.left, plot->y, span.right - span.left, plot->height);
    cairo_fill (paint->cr);
    sb_paint_source (paint, sb_axis_colour, 1);
    cairo_rectangle (paint->cr, span.left, plot->y, span.right - span.left, bar);
    cairo_fill (paint->cr);
  }
}

void
sb_paint_stretch_numbers (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  for (guint k = 0; k < panel->stretches->len; k++) {
    const SbTimeStretch *stretch = &g_array_index (panel->stretches, SbTimeStretch, k);
    Span span;
    if (span_of (paint, page, i, stretch, &span))
      paint_number (paint, page, i, stretch, &span);
  }
}
