/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks that show where a measure comes from: lines in sb_paint_ink, which no configuration has, points in the
 * configuration's colour. Lines are thinner than the curves, so that a curve shows on both sides of what was laid along
 * it. */
#include "paint.h"

#include <math.h>

#define LINE_WIDTH    0.8
#define POINT_RADIUS  2.3
#define TANGENT_REACH 30.0 /* half length, units */
#define SECANT_REACH  0.12 /* beyond each end, share of its length */

const SbColour sb_paint_ink = { 0.10, 0.10, 0.12 };
static const SbColour white = { 1, 1, 1 };

typedef struct {
  double x, y;
} Point;

static Point
point_of (const SbPage *page, gsize i, double x, double y)
{
  SbAxisScale x_scale = sb_page_x_scale (page, i), y_scale = sb_page_y_scale (page, i);
  return (Point){ sb_paint_at (&x_scale, x), sb_paint_at (&y_scale, y) };
}

static void
paint_point (SbPaint *paint, Point at, const SbMark *mark, gboolean filled)
{
  SbColour colour = sb_style_get (mark->style)->colour, inside = filled ? colour : white;
  cairo_new_path (paint->cr);
  cairo_arc (paint->cr, at.x, at.y, POINT_RADIUS * paint->unit, 0, 2 * G_PI);
  sb_paint_source (paint, inside, 1);
  cairo_fill_preserve (paint->cr);
  sb_paint_pen (paint, filled ? sb_paint_ink : colour, 1, filled ? 0.8 : 1.3);
  cairo_stroke (paint->cr);
}

static void
paint_secant (SbPaint *paint, Point a, Point b)
{
  double dx = SECANT_REACH * (b.x - a.x), dy = SECANT_REACH * (b.y - a.y);
  cairo_move_to (paint->cr, a.x - dx, a.y - dy);
  cairo_line_to (paint->cr, b.x + dx, b.y + dy);
  sb_paint_pen (paint, sb_paint_ink, 1, LINE_WIDTH);
  cairo_stroke (paint->cr);
}

static void
paint_tangent (SbPaint *paint, const SbPage *page, gsize i, const SbMark *mark)
{
  SbAxisScale x = sb_page_x_scale (page, i), y = sb_page_y_scale (page, i);
  Point at = point_of (page, i, mark->x, mark->y);
  double rise = mark->slope * (y.at_high - y.at_low) / (y.high - y.low);
  double run = (x.at_high - x.at_low) / (x.high - x.low);
  double length = hypot (rise, run);
  if (!(length > 0) || !isfinite (length))
    return;
  double reach = TANGENT_REACH * paint->unit;
  cairo_move_to (paint->cr, at.x - reach * run / length, at.y - reach * rise / length);
  cairo_line_to (paint->cr, at.x + reach * run / length, at.y + reach * rise / length);
  sb_paint_pen (paint, sb_paint_ink, 1, LINE_WIDTH);
  cairo_stroke (paint->cr);
  paint_point (paint, at, mark, TRUE);
}

static void
paint_level (SbPaint *paint, const SbPage *page, gsize i, const SbMark *mark)
{
  double from = isfinite (mark->x) ? mark->x : page->x[i].low,
         to = isfinite (mark->x_end) ? mark->x_end : page->x[i].high;
  Point start = point_of (page, i, from, mark->y), end = point_of (page, i, to, mark->y);
  cairo_move_to (paint->cr, start.x, start.y);
  cairo_line_to (paint->cr, end.x, end.y);
  sb_paint_pen (paint, sb_paint_ink, 0.9, LINE_WIDTH);
  cairo_set_dash (paint->cr, (double[]){ 2 * paint->unit, 1.6 * paint->unit }, 2, 0);
  cairo_stroke (paint->cr);
}

/* In units: half width and length of an arrow head, its distance from the crest, and between two. */
#define HEAD_HALF   2.4
#define HEAD_LENGTH 4.4
#define HEAD_GAP    2.2
#define HEADS_APART 0.8
#define MOST_HEADS  64 /* that are kept apart */

/* Heads that were painted, so that none lies on another. Nearly equal frequencies share a crest. */
typedef struct {
  SbRect head[MOST_HEADS];
  gsize n;
} Heads;

/* The box of a head that points at the crest from above or below, so many heads away from it. */
static SbRect
head_at (double unit, Point at, gboolean below, int away)
{
  double near = HEAD_GAP + away * (HEAD_LENGTH + HEADS_APART), top = below ? near : -near - HEAD_LENGTH;
  return (SbRect){ at.x - HEAD_HALF * unit, at.y + top * unit, 2 * HEAD_HALF * unit, HEAD_LENGTH * unit };
}

static gboolean
is_clear (const Heads *heads, double unit, const SbRect *box)
{
  double air = HEADS_APART * unit / 2;
  for (gsize k = 0; k < heads->n; k++) {
    const SbRect *other = &heads->head[k];
    if (box->x < other->x + other->width + air && other->x < box->x + box->width + air
        && box->y < other->y + other->height + air && other->y < box->y + box->height + air)
      return FALSE;
  }
  return TRUE;
}

/* A small arrow head that points at the crest: from above, else from below, else farther away. */
static void
paint_crest (SbPaint *paint, Point at, const SbMark *mark, Heads *heads)
{
  double unit = paint->unit;
  int place = 0;
  SbRect box = head_at (unit, at, FALSE, 0);
  while (!is_clear (heads, unit, &box) && ++place < MOST_HEADS)
    box = head_at (unit, at, place % 2 != 0, place / 2);
  if (heads->n < MOST_HEADS)
    heads->head[heads->n++] = box;
  gboolean below = place % 2 != 0;
  double tip = below ? box.y : box.y + box.height, base = below ? box.y + box.height : box.y;
  cairo_move_to (paint->cr, at.x, tip);
  cairo_line_to (paint->cr, box.x, base);
  cairo_line_to (paint->cr, box.x + box.width, base);
  cairo_close_path (paint->cr);
  sb_paint_pen (paint, white, 1, 1.4);
  cairo_stroke_preserve (paint->cr);
  sb_paint_source (paint, sb_style_get (mark->style)->colour, 1);
  cairo_fill (paint->cr);
}

static void
paint_mark (SbPaint *paint, const SbPage *page, gsize i, const SbMark *mark, Heads *heads)
{
  Point at = point_of (page, i, mark->x, mark->y);
  switch (mark->kind) {
  case SB_EVIDENCE_PEAK:
    paint_point (paint, at, mark, TRUE);
    break;
  case SB_EVIDENCE_CROSSING:
    paint_point (paint, at, mark, FALSE);
    break;
  case SB_EVIDENCE_TANGENT:
    paint_tangent (paint, page, i, mark);
    break;
  case SB_EVIDENCE_LEVEL:
    paint_level (paint, page, i, mark);
    break;
  case SB_EVIDENCE_CREST:
    paint_crest (paint, at, mark, heads);
    break;
  }
}

/* Two crossings of a configuration, one after the other, span a secant. */
static void
paint_secants (SbPaint *paint, const SbPage *page, gsize i, const GArray *marks)
{
  for (guint k = 0; k + 1 < marks->len; k++) {
    const SbMark *a = &g_array_index (marks, SbMark, k), *b = &g_array_index (marks, SbMark, k + 1);
    if (a->kind != SB_EVIDENCE_CROSSING || b->kind != SB_EVIDENCE_CROSSING || a->configuration != b->configuration)
      continue;
    paint_secant (paint, point_of (page, i, a->x, a->y), point_of (page, i, b->x, b->y));
    k++;
  }
}

void
sb_paint_marks (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  Heads heads = { .n = 0 };
  for (guint k = 0; k < panel->marks->len; k++) {
    const SbMark *mark = &g_array_index (panel->marks, SbMark, k);
    if (mark->kind == SB_EVIDENCE_LEVEL)
      paint_mark (paint, page, i, mark, &heads);
  }
  paint_secants (paint, page, i, panel->marks);
  for (guint k = 0; k < panel->marks->len; k++) {
    const SbMark *mark = &g_array_index (panel->marks, SbMark, k);
    if (mark->kind != SB_EVIDENCE_LEVEL)
      paint_mark (paint, page, i, mark, &heads);
  }
}
