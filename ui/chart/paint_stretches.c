/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches of time in which a difference leaves zero: shaded, with a bar along the top that holds in grey print, and
 * numbered without gaps: those that stand too close together share their numbers. */
#include "paint.h"

#include <math.h>

#define BAR_WIDTH  2.2
#define NUMBER_GAP 0.3 /* between two numbers, in sizes of axis numbers */
#define THINNEST   0.6 /* units: a stretch of one instant is seen too */

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

/* The number of a stretch, or of several that stand too close for a number each: "2–4". */
typedef struct {
  guint first, last;
  Span span;
  double middle, half; /* of the words, within the plot */
} Numbered;

static char *
number_words (const Numbered *numbered)
{
  return numbered->first == numbered->last ? g_strdup_printf ("%u", numbered->first)
                                           : g_strdup_printf ("%u–%u", numbered->first, numbered->last);
}

static void
place_number (SbPaint *paint, const SbRect *plot, Numbered *numbered)
{
  g_autofree char *words = number_words (numbered);
  double width, height;
  sb_text_measure (paint, SB_TEXT_FOOT, words, 0, 1, &width, &height);
  numbered->half = width / 2;
  numbered->middle = fmax (plot->x + width / 2,
                           fmin ((numbered->span.left + numbered->span.right) / 2, plot->x + plot->width - width / 2));
}

static void
join_to_neighbour (SbPaint *paint, const SbRect *plot, GArray *numbers, Numbered *numbered)
{
  while (numbers->len > 0) {
    const Numbered *before = &g_array_index (numbers, Numbered, numbers->len - 1);
    if (before->middle + before->half + NUMBER_GAP * paint->font_pt <= numbered->middle - numbered->half)
      return;
    numbered->first = before->first;
    numbered->span.left = before->span.left;
    place_number (paint, plot, numbered);
    g_array_set_size (numbers, numbers->len - 1);
  }
}

void
sb_paint_stretch_numbers (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  const SbRect *plot = &page->plot[i];
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (Numbered));
  for (guint k = 0; k < panel->stretches->len; k++) {
    const SbTimeStretch *stretch = &g_array_index (panel->stretches, SbTimeStretch, k);
    Numbered numbered = { .first = stretch->number, .last = stretch->number };
    if (!span_of (paint, page, i, stretch, &numbered.span))
      continue;
    place_number (paint, plot, &numbered);
    join_to_neighbour (paint, plot, numbers, &numbered);
    g_array_append_val (numbers, numbered);
  }
  for (guint k = 0; k < numbers->len; k++) {
    const Numbered *numbered = &g_array_index (numbers, Numbered, k);
    g_autofree char *words = number_words (numbered);
    if (2 * numbered->half < numbered->span.right - numbered->span.left) { /* else it stands on the ground too */
      double width, height;
      sb_text_measure (paint, SB_TEXT_FOOT, words, 0, 1, &width, &height);
      sb_paint_source (paint, shade, 1);
      cairo_rectangle (paint->cr, numbered->middle - numbered->half, plot->y + BAR_WIDTH * paint->unit, width, height);
      cairo_fill (paint->cr);
    }
    sb_text_paint (paint, SB_TEXT_FOOT, words, 0, 1, numbered->middle, plot->y + BAR_WIDTH * paint->unit, 0.5);
  }
}
