/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grid, axis lines, ticks, numbers and names. */
#include "paint.h"

#include <math.h>

/* Minor ticks nearer than this, in units, are left out. */
#define MINOR_SPACING 4.0
#define MINOR_LENGTH  0.55

const SbColour sb_axis_colour = { 0.30, 0.32, 0.35 };
const SbColour sb_grid_colour = { 0.895, 0.905, 0.915 };
const SbColour sb_zero_colour = { 0.70, 0.72, 0.74 };

void
sb_paint_pen (SbPaint *paint, SbColour colour, double alpha, double width)
{
  sb_paint_source (paint, colour, alpha);
  cairo_set_line_width (paint->cr, width * paint->unit);
  cairo_set_dash (paint->cr, NULL, 0, 0);
  cairo_set_line_cap (paint->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (paint->cr, CAIRO_LINE_JOIN_ROUND);
}

static void
line (cairo_t *cr, double x1, double y1, double x2, double y2)
{
  cairo_move_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
}

/* The scale of the axis along x in the units of its numbers. */
static SbAxisScale
x_tick_scale (const SbPage *page, gsize i)
{
  SbAxisScale scale = sb_page_x_scale (page, i);
  scale.low *= page->x[i].factor;
  scale.high *= page->x[i].factor;
  return scale;
}

/* Words are read on the ground alone, whatever it is: the grid ends at the boxes of labels. */
static void
keep_grid_off_labels (SbPaint *paint, const SbRect *plot, gsize i)
{
  guint n = 0;
  for (guint k = 0; paint->labels != NULL && k < paint->labels->len; k++) {
    const SbPlacedLabel *label = &g_array_index (paint->labels, SbPlacedLabel, k);
    if (label->panel != i)
      continue;
    cairo_rectangle (paint->cr, label->box.x, label->box.y, label->box.width, label->box.height);
    n++;
  }
  if (n == 0)
    return;
  double air = SB_GRID_WIDTH * paint->unit; /* lines on the edges are whole */
  cairo_rectangle (paint->cr, plot->x - air, plot->y - air, plot->width + 2 * air, plot->height + 2 * air);
  cairo_set_fill_rule (paint->cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_clip (paint->cr);
}

void
sb_paint_grid (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbRect *plot = &page->plot[i];
  double right = plot->x + plot->width, bottom = plot->y + plot->height;
  SbAxisScale x = x_tick_scale (page, i), y = sb_page_y_scale (page, i);
  cairo_save (paint->cr);
  keep_grid_off_labels (paint, plot, i);
  sb_paint_pen (paint, sb_grid_colour, 1, SB_GRID_WIDTH);
  for (gint64 k = page->x[i].ticks.first; k <= page->x[i].ticks.last; k++) {
    double at = sb_axis_scale_at (&x, sb_ticks_value (&page->x[i].ticks, k));
    line (paint->cr, at, plot->y, at, bottom);
  }
  for (gint64 k = page->y_ticks[i].first; k <= page->y_ticks[i].last; k++) {
    double at = sb_axis_scale_at (&y, sb_ticks_value (&page->y_ticks[i], k));
    line (paint->cr, plot->x, at, right, at);
  }
  cairo_stroke (paint->cr);

  /* The onset, or another zero, and the value zero. */
  sb_paint_pen (paint, sb_zero_colour, 1, 1.6 * SB_GRID_WIDTH);
  double onset = sb_axis_scale_at (&x, 0), zero = sb_axis_scale_at (&y, 0);
  if (onset >= plot->x && onset <= right)
    line (paint->cr, onset, plot->y, onset, bottom);
  if (zero >= plot->y && zero <= bottom)
    line (paint->cr, plot->x, zero, right, zero);
  cairo_stroke (paint->cr);
  cairo_restore (paint->cr);
}

/* Positions of minor ticks between two ticks, calling `mark` for each. */
typedef void (*MinorFunc) (SbPaint *paint, const SbRect *plot, double at);

static void
minor_ticks (SbPaint *paint, const SbRect *plot, const SbAxisScale *scale, const SbTicks *ticks, MinorFunc mark)
{
  if (ticks->per_decade > 0)
    return;
  double step = ticks->step / ticks->n_minor;
  double spacing = fabs (sb_axis_scale_at (scale, scale->low + step) - scale->at_low);
  if (spacing < MINOR_SPACING * paint->unit)
    return;
  gint64 first = (gint64) ceil (scale->low / step), last = (gint64) floor (scale->high / step);
  for (gint64 k = first; k <= last; k++)
    if (k % ticks->n_minor != 0)
      mark (paint, plot, sb_axis_scale_at (scale, (double) k * step));
}

static void
minor_on_time_axis (SbPaint *paint, const SbRect *plot, double at)
{
  double bottom = plot->y + plot->height;
  line (paint->cr, at, bottom, at, bottom + MINOR_LENGTH * SB_TICK_LENGTH * paint->font_pt);
}

static void
minor_on_value_axis (SbPaint *paint, const SbRect *plot, double at)
{
  line (paint->cr, plot->x, at, plot->x - MINOR_LENGTH * SB_TICK_LENGTH * paint->font_pt, at);
}

static void
paint_value_axis (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbRect *plot = &page->plot[i];
  const SbTicks *ticks = &page->y_ticks[i];
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbAxisScale y = sb_page_y_scale (page, i);
  double tick = SB_TICK_LENGTH * paint->font_pt, width, height;
  sb_paint_pen (paint, sb_axis_colour, 1, SB_AXIS_WIDTH);
  for (gint64 k = ticks->first; k <= ticks->last; k++) {
    double at = sb_axis_scale_at (&y, sb_ticks_value (ticks, k));
    line (paint->cr, plot->x - tick, at, plot->x, at);
  }
  minor_ticks (paint, plot, &y, ticks, minor_on_value_axis);
  cairo_stroke (paint->cr);
  sb_text_measure (paint, SB_TEXT_TICK, "0", 0, 1, &width, &height);
  for (gint64 k = ticks->first; k <= ticks->last; k++) {
    g_autofree char *label = sb_ticks_label (ticks, k);
    double at = sb_axis_scale_at (&y, sb_ticks_value (ticks, k));
    sb_text_paint (paint, SB_TEXT_TICK, label, 0, 1, plot->x - tick - SB_TICK_GAP * paint->font_pt, at - height / 2, 1);
  }
  g_autofree char *name = sb_page_value_label (paint, panel->label, plot->height);
  sb_text_paint_upwards (paint, SB_TEXT_VALUE, name, plot->height, SB_VALUE_LABEL_LINES, page->y_labels_right[i],
                         plot->y + plot->height / 2);
}

static void
paint_time_numbers (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbRect *plot = &page->plot[i];
  SbAxisScale x = x_tick_scale (page, i);
  double top = plot->y + plot->height + (SB_TICK_LENGTH + SB_TICK_GAP) * paint->font_pt;
  for (gint64 k = page->x[i].ticks.first; k <= page->x[i].ticks.last; k++) {
    g_autofree char *label = sb_ticks_label (&page->x[i].ticks, k);
    double at = sb_axis_scale_at (&x, sb_ticks_value (&page->x[i].ticks, k));
    sb_text_paint (paint, SB_TEXT_TICK, label, 0, 1, at, top, 0.5);
  }
  sb_text_paint (paint, SB_TEXT_AXIS, page->x[i].label, plot->width, 1, plot->x + plot->width / 2, page->x[i].label_y,
                 0.5);
}

static void
paint_time_axis (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbRect *plot = &page->plot[i];
  SbAxisScale x = x_tick_scale (page, i);
  double bottom = plot->y + plot->height;
  sb_paint_pen (paint, sb_axis_colour, 1, SB_AXIS_WIDTH);
  for (gint64 k = page->x[i].ticks.first; k <= page->x[i].ticks.last; k++) {
    double at = sb_axis_scale_at (&x, sb_ticks_value (&page->x[i].ticks, k));
    line (paint->cr, at, bottom, at, bottom + SB_TICK_LENGTH * paint->font_pt);
  }
  minor_ticks (paint, plot, &x, &page->x[i].ticks, minor_on_time_axis);
  cairo_stroke (paint->cr);
}

void
sb_paint_axes (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbRect *plot = &page->plot[i];
  double bottom = plot->y + plot->height;
  paint_time_axis (paint, page, i);
  if (!isnan (page->x[i].label_y))
    paint_time_numbers (paint, page, i);
  paint_value_axis (paint, page, i);
  sb_paint_pen (paint, sb_axis_colour, 1, SB_AXIS_WIDTH);
  cairo_move_to (paint->cr, plot->x, plot->y);
  cairo_line_to (paint->cr, plot->x, bottom);
  cairo_line_to (paint->cr, plot->x + plot->width, bottom);
  cairo_stroke (paint->cr);
}
