/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Panels that have axes of their own along x: each has its numbers and its name below it. Phase planes stand side by
 * side where there is room, other panels below one another. */
#include "paint.h"

#include <math.h>

/* All in sizes of axis numbers. */
#define CELL_GAP        1.0
#define LABEL_GAP       0.5
#define SMALLEST_HEIGHT 4.5
#define SMALLEST_WIDTH  8.0

/* Planes stand side by side when they are at least this wide for their height. */
#define NARROWEST 0.7

/* Of the cells of one column, whose plots begin at one edge. */
typedef struct {
  double depth, numbers; /* across the turned names, and of the widest number */
} Beside;

/* Height of the plot in its cell, and where it begins. */
static double
lay_height (SbPaint *paint, SbPage *page, gsize i, const SbRect *cell)
{
  double font = paint->font_pt, width, name, number;
  sb_text_measure (paint, SB_TEXT_AXIS, page->x[i].label, cell->width, 1, &width, &name);
  sb_text_measure (paint, SB_TEXT_TICK, "0", 0, 1, &width, &number);
  double ticks = (SB_TICK_LENGTH + SB_TICK_GAP) * font, top = cell->y + number / 2;
  page->x[i].label_y = cell->y + cell->height - name;
  page->plot[i] = (SbRect){ cell->x, top, 1, fmax (page->x[i].label_y - number - ticks - top, 1) };
  return page->plot[i].height;
}

/* Widens what is beside the plots of the column by what this one needs. */
static void
lay_beside (SbPaint *paint, SbPage *page, gsize i, Beside *beside)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  double height = page->plot[i].height, width, depth;
  g_autofree char *label = sb_page_value_label (paint, panel->label, height);
  sb_text_measure (paint, SB_TEXT_VALUE, label, height, SB_VALUE_LABEL_LINES, &width, &depth);
  beside->depth = fmax (beside->depth, depth);
  beside->numbers = fmax (beside->numbers, sb_page_lay_y_ticks (paint, page, i, height));
}

static void
lay_width (SbPaint *paint, SbPage *page, gsize i, const SbRect *cell, const Beside *beside)
{
  double font = paint->font_pt, ticks = (SB_TICK_LENGTH + SB_TICK_GAP) * font, end = cell->x + cell->width;
  page->y_labels_right[i] = cell->x + beside->depth;
  double left = page->y_labels_right[i] + LABEL_GAP * font + beside->numbers + ticks;
  double right = sb_page_lay_x_ticks (paint, &page->x[i], left, end);
  page->plot[i].x = left;
  page->plot[i].width = fmax (end - right - left, 1);
}

gboolean
sb_page_lay_out_apart (SbPaint *paint, double width_pt, double height_pt, SbPage *page)
{
  double font = paint->font_pt, margin = SB_PAGE_MARGIN * font, gap = CELL_GAP * font;
  double inner = fmax (width_pt - 2 * margin, 1);
  double top = sb_page_lay_title (paint, page, margin, inner, margin);
  SbFree room = { margin, inner, top, sb_page_lay_foot (paint, page, margin, inner, height_pt - margin) };
  gboolean fits = sb_page_lay_legend (paint, page, &room);
  inner = room.width;
  top = room.top;
  double bottom = room.bottom;
  double n = (double) page->n_plots, columns = 1;
  if (paint->model->view == SB_VIEW_PHASE && inner / n >= NARROWEST * (bottom - top))
    columns = n;
  double rows = ceil (n / columns), width = (inner + margin) / columns, height = (bottom - top + gap) / rows;
  SbRect cell[SB_CHART_MAX_PANELS];
  Beside beside[SB_CHART_MAX_PANELS] = { 0 }; /* of each column */
  gsize n_columns = (gsize) columns;
  for (gsize i = 0; i < page->n_plots; i++) {
    cell[i] = (SbRect){ margin + (double) (i % n_columns) * width, top + (double) (i / n_columns) * height, width,
                        height - gap };
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
    sb_page_fit_value_name (paint, panel->label, lay_height (paint, page, i, &cell[i]));
  }
  for (gsize i = 0; i < page->n_plots; i++)
    lay_beside (paint, page, i, &beside[i % n_columns]);
  for (gsize i = 0; i < page->n_plots; i++) {
    lay_width (paint, page, i, &cell[i], &beside[i % n_columns]);
    fits = fits && page->plot[i].height >= SMALLEST_HEIGHT * font && page->plot[i].width >= SMALLEST_WIDTH * font;
  }
  return fits;
}
