/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A panel of a spread: rows, their names, the value axis below, and why a row is empty. */
#include "paint.h"

#include <math.h>

/* In sizes of axis numbers, about a mean and its interval. */
#define MARK_AIR 0.8

#define GROUND_ALPHA 0.85

/* Where in a row with points what is to be said of it stands. */
#define NOTE_PLACE 0.84

typedef struct {
  SbPaint *paint;
  const SbPage *page;
  gsize i;
  const SbChartPanel *panel;
  const SbRect *plot;
  SbAxisScale row, value;
} Spread;

static double
bottom_of (const Spread *spread)
{
  return spread->plot->y + spread->plot->height;
}

static double
tick_at (const Spread *spread, gint64 k)
{
  return sb_axis_scale_at (&spread->value, sb_ticks_value (&spread->page->y_ticks[spread->i], k));
}

static void
line (cairo_t *cr, double x1, double y1, double x2, double y2)
{
  cairo_move_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
}

static void
paint_grid (const Spread *spread)
{
  cairo_t *cr = spread->paint->cr;
  const SbRect *plot = spread->plot;
  const SbTicks *ticks = &spread->page->y_ticks[spread->i];
  sb_paint_pen (spread->paint, sb_grid_colour, 1, SB_GRID_WIDTH);
  for (gint64 k = ticks->first; k <= ticks->last; k++)
    line (cr, tick_at (spread, k), plot->y, tick_at (spread, k), bottom_of (spread));
  for (guint r = 1; r < spread->paint->model->rows->len; r++)
    line (cr, plot->x, sb_axis_scale_at (&spread->row, r), plot->x + plot->width, sb_axis_scale_at (&spread->row, r));
  cairo_stroke (cr);
  double zero = sb_axis_scale_at (&spread->value, 0);
  if (zero > plot->x && zero < plot->x + plot->width) {
    sb_paint_pen (spread->paint, sb_axis_colour, 1, SB_AXIS_WIDTH);
    line (cr, zero, plot->y, zero, bottom_of (spread));
    cairo_stroke (cr);
  }
}

static void
paint_axis (const Spread *spread)
{
  SbPaint *paint = spread->paint;
  const SbRect *plot = spread->plot;
  const SbTicks *ticks = &spread->page->y_ticks[spread->i];
  double tick = SB_TICK_LENGTH * paint->font_pt;
  sb_paint_pen (paint, sb_axis_colour, 1, SB_AXIS_WIDTH);
  for (gint64 k = ticks->first; k <= ticks->last; k++)
    line (paint->cr, tick_at (spread, k), bottom_of (spread), tick_at (spread, k), bottom_of (spread) + tick);
  line (paint->cr, plot->x, plot->y, plot->x, bottom_of (spread));
  line (paint->cr, plot->x, bottom_of (spread), plot->x + plot->width, bottom_of (spread));
  cairo_stroke (paint->cr);
  for (gint64 k = ticks->first; k <= ticks->last; k++) {
    g_autofree char *label = sb_ticks_label (ticks, k);
    sb_text_paint (paint, SB_TEXT_TICK, label, 0, 1, tick_at (spread, k),
                   bottom_of (spread) + tick + SB_TICK_GAP * paint->font_pt, 0.5);
  }
  g_autofree char *label = sb_text_keep_numbers (spread->panel->label);
  sb_text_paint (paint, SB_TEXT_AXIS, label, plot->width, SB_LABEL_LINES, plot->x + plot->width / 2,
                 spread->page->label_top[spread->i], 0.5);
}

/* At the left of the first panel of each row of panels. */
static void
paint_names (const Spread *spread)
{
  SbPaint *paint = spread->paint;
  const SbPage *page = spread->page;
  for (guint r = 0; r < paint->model->rows->len; r++) {
    const SbRow *row = &g_array_index (paint->model->rows, SbRow, r);
    g_autofree char *label = sb_page_row_label (paint, row, page->names_width, page->names_lines);
    double width, height, middle = sb_axis_scale_at (&spread->row, r + 0.5);
    sb_text_measure (paint, SB_TEXT_LEGEND, label, page->names_width, page->names_lines, &width, &height);
    double right = spread->plot->x - SB_NAMES_GAP * paint->font_pt;
    gboolean wrapped = page->names_lines > 1;
    sb_text_paint (paint, SB_TEXT_LEGEND, label, page->names_width, page->names_lines,
                   wrapped ? right - page->names_width : right, middle - height / 2, wrapped ? 0 : 1);
  }
}

/* The mean that is drawn in row r, or the point where there is none; NaN: the row is empty. */
static double
middle_of_row (const Spread *spread, guint r)
{
  for (guint k = 0; k < spread->panel->means->len; k++) {
    const SbMeanMark *mark = &g_array_index (spread->panel->means, SbMeanMark, k);
    if (mark->at >= r && mark->at < r + 1)
      return mark->mean;
  }
  for (guint k = 0; k < spread->panel->points->len; k++) {
    const SbPoint *point = &g_array_index (spread->panel->points, SbPoint, k);
    if (point->at >= r && point->at < r + 1)
      return point->value;
  }
  return NAN;
}

/* Across, what the mean and its interval take up in row r. */
static void
extent_of_mean (const Spread *spread, guint r, double *left, double *right)
{
  double middle = middle_of_row (spread, r), low = middle, high = middle;
  gboolean doubted = FALSE;
  for (guint k = 0; k < spread->panel->means->len; k++) {
    const SbMeanMark *mark = &g_array_index (spread->panel->means, SbMeanMark, k);
    if (mark->at >= r && mark->at < r + 1 && !isnan (mark->low)) {
      low = mark->low;
      high = mark->high;
    }
    doubted = doubted || (mark->at >= r && mark->at < r + 1 && mark->doubted);
  }
  *left = sb_axis_scale_at (&spread->value, low) - MARK_AIR * spread->paint->font_pt;
  *right = sb_axis_scale_at (&spread->value, high) + (doubted ? 2 : 1) * MARK_AIR * spread->paint->font_pt;
}

/* Beside the mean on the side with more room; over points, on the chart's ground, where it fits on neither. */
static void
paint_note_beside (const Spread *spread, guint r, const char *note)
{
  SbPaint *paint = spread->paint;
  const SbRect *plot = spread->plot;
  double left, right, gap = 0.5 * paint->font_pt, width, height;
  extent_of_mean (spread, r, &left, &right);
  double room[] = { left - plot->x - gap, plot->x + plot->width - gap - right };
  gboolean at_right = room[1] > room[0];
  sb_text_measure (paint, SB_TEXT_FOOT, note, 0, 1, &width, &height);
  double top = sb_axis_scale_at (&spread->row, r + NOTE_PLACE) - height / 2;
  if (width > fmax (room[0], room[1])) {
    top = sb_axis_scale_at (&spread->row, r) + SB_GRID_WIDTH;
    sb_paint_source (paint, (SbColour){ 1, 1, 1 }, GROUND_ALPHA);
    cairo_rectangle (paint->cr, at_right ? plot->x + plot->width - gap - width : plot->x + gap, top, width, height);
    cairo_fill (paint->cr);
  }
  sb_text_paint (paint, SB_TEXT_FOOT, note, plot->width - 2 * gap, 1,
                 at_right ? plot->x + plot->width - gap : plot->x + gap, top, at_right ? 1 : 0);
}

/* In the middle of an empty row. */
static void
paint_note (const Spread *spread, guint r, const char *note)
{
  SbPaint *paint = spread->paint;
  const SbRect *plot = spread->plot;
  if (!isnan (middle_of_row (spread, r))) {
    paint_note_beside (spread, r, note);
    return;
  }
  double gap = 0.5 * paint->font_pt, width, height, line;
  double row = sb_axis_scale_at (&spread->row, r + 1) - sb_axis_scale_at (&spread->row, r);
  double room = plot->width - 2 * gap;
  sb_text_measure (paint, SB_TEXT_FOOT, "0", 0, 1, &width, &line);
  int lines = (int) fmax (1, floor (row / line));
  sb_text_measure (paint, SB_TEXT_FOOT, note, room, lines, &width, &height);
  sb_text_paint (paint, SB_TEXT_FOOT, note, room, lines, plot->x + gap,
                 sb_axis_scale_at (&spread->row, r + 0.5) - height / 2, 0);
}

void
sb_paint_spread (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbRect *plot = &page->plot[i];
  double n_rows = paint->model->rows->len;
  Spread spread = {
    .paint = paint,
    .page = page,
    .i = i,
    .panel = g_ptr_array_index (paint->model->panels, (guint) i),
    .plot = plot,
    .row = { 0, n_rows, plot->y, plot->y + plot->height, FALSE },
    .value = { page->y_low[i], page->y_high[i], plot->x, plot->x + plot->width, FALSE },
  };
  paint_grid (&spread);
  cairo_save (paint->cr);
  cairo_rectangle (paint->cr, plot->x, plot->y, plot->width, plot->height);
  cairo_clip (paint->cr);
  sb_paint_rules (paint, i, &spread.row, &spread.value, TRUE);
  sb_paint_points (paint, i, &spread.row, &spread.value, TRUE);
  sb_paint_rule_labels (paint, page, i, &spread.row, &spread.value);
  cairo_restore (paint->cr);
  for (guint r = 0; r < spread.panel->notes->len; r++) {
    const char *note = g_ptr_array_index (spread.panel->notes, r);
    if (note[0] != '\0')
      paint_note (&spread, r, note);
  }
  paint_axis (&spread);
  if (i % page->columns == 0)
    paint_names (&spread);
}
