/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the parts of a spread go: names of the rows at the left, panels beside them, in several rows of panels where
 * one row would make them narrow. */
#include "paint.h"

#include <math.h>

/* In sizes of axis numbers. */
#define NARROWEST      13.0
#define COLUMN_GAP     1.8
#define PANEL_GAP      0.9
#define RIGHT_ROOM     0.7
#define X_TICK_SPACING 4.5
#define LOWEST_ROW     1.75
#define HIGHEST_ROW    16.0
#define ROW_AIR        0.3

/* A name is taken to end within these. */
#define MOST_LINES 40

/* The share of the page that names may take. */
#define NAMES_SHARE 0.34

/* A name that needs more lines than it has loses its end, never its number of repeats. */
char *
sb_page_row_label (SbPaint *paint, const SbRow *row, double room, int lines)
{
  double width, line, height;
  g_autofree char *count = g_strdup_printf ("(n = %" G_GSIZE_FORMAT ")", row->n);
  g_autofree char *kept = sb_text_keep_settings (count, 0);
  char *label = g_strdup_printf ("%s %s", row->name, kept);
  sb_text_measure (paint, SB_TEXT_LEGEND, "0", 0, 1, &width, &line);
  for (long n = g_utf8_strlen (row->name, -1) - 1; n > 0; n--) {
    sb_text_measure (paint, SB_TEXT_LEGEND, label, room, MOST_LINES, &width, &height);
    if (height < (lines + 0.5) * line)
      break;
    g_free (label);
    g_autofree char *start = g_utf8_substring (row->name, 0, n);
    label = g_strdup_printf ("%s… %s", g_strchomp (start), kept);
  }
  return label;
}

static void
lay_names (SbPaint *paint, SbPage *page, double inner, gboolean may_cut)
{
  double widest = 0, room = NAMES_SHARE * inner;
  for (guint r = 0; r < paint->model->rows->len; r++) {
    double width, height;
    g_autofree char *label = sb_page_row_label (paint, &g_array_index (paint->model->rows, SbRow, r), 0, 1);
    sb_text_measure (paint, SB_TEXT_LEGEND, label, 0, 1, &width, &height);
    widest = fmax (widest, width);
  }
  page->names_width = fmin (widest + 0.05 * paint->font_pt, room);
  page->names_lines = widest <= room ? 1 : may_cut ? 2 : 4;
}

/* The height that the highest name takes. */
static double
highest_name (SbPaint *paint, const SbPage *page)
{
  double highest = 0;
  for (guint r = 0; r < paint->model->rows->len; r++) {
    double width, height;
    g_autofree char *label = sb_page_row_label (paint, &g_array_index (paint->model->rows, SbRow, r), page->names_width,
                                                page->names_lines);
    sb_text_measure (paint, SB_TEXT_LEGEND, label, page->names_width, page->names_lines, &width, &height);
    highest = fmax (highest, height);
  }
  return highest;
}

static void
lay_columns (SbPaint *paint, SbPage *page, double room)
{
  double font = paint->font_pt, n = (double) page->n_plots;
  double fit = floor ((room + COLUMN_GAP * font) / ((NARROWEST + COLUMN_GAP) * font));
  guint columns = (guint) CLAMP (fit, 1, n);
  guint rows = ((guint) page->n_plots + columns - 1) / columns;
  page->columns = ((guint) page->n_plots + rows - 1) / rows;
}

static double
highest_label (SbPaint *paint, double width)
{
  double highest = 0;
  for (guint i = 0; i < paint->model->panels->len; i++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, i);
    g_autofree char *label = sb_text_keep_numbers (panel->label);
    double unused, height;
    sb_text_measure (paint, SB_TEXT_AXIS, label, width, SB_LABEL_LINES, &unused, &height);
    highest = fmax (highest, height);
  }
  return highest;
}

/* Half of the last number lies right of its tick: where it would pass `right`, it is left out. */
static void
keep_left_of (SbPaint *paint, SbTicks *ticks, const SbAxisScale *scale, double right)
{
  double half = sb_page_widest_label (paint, ticks) / 2;
  while (ticks->last > ticks->first && sb_axis_scale_at (scale, sb_ticks_value (ticks, ticks->last)) + half > right)
    ticks->last--;
}

/* As many numbers as stand side by side, none beyond `right`. */
static void
lay_ticks (SbPaint *paint, SbPage *page, gsize i, double right)
{
  const SbRect *plot = &page->plot[i];
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  if (panel->points->len + panel->means->len == 0) {
    page->y_ticks[i] = (SbTicks){ .first = 0, .last = -1 };
    return;
  }
  SbAxisScale scale = { page->y_low[i], page->y_high[i], plot->x, plot->x + plot->width, FALSE };
  int n = (int) fmax (2, floor (plot->width / (X_TICK_SPACING * paint->font_pt)) + 1);
  for (; n >= 2; n--) {
    page->y_ticks[i] = sb_ticks_new (page->y_low[i], page->y_high[i], n);
    double spacing = sb_page_least_spacing (&page->y_ticks[i], &scale);
    if (spacing > sb_page_widest_label (paint, &page->y_ticks[i]) + paint->font_pt) {
      keep_left_of (paint, &page->y_ticks[i], &scale, right);
      return;
    }
  }
  page->y_ticks[i].last = page->y_ticks[i].first; /* one number is better than two that run together */
}

/* Below the plot: numbers and the label. */
static double
room_below (SbPaint *paint, double label)
{
  double unused, line;
  sb_text_measure (paint, SB_TEXT_TICK, "0", 0, 1, &unused, &line);
  return (SB_TICK_LENGTH + SB_TICK_GAP + SB_VALUE_LABEL_GAP) * paint->font_pt + line + label;
}

gboolean
sb_page_lay_out_spread (SbPaint *paint, double width_pt, double height_pt, gboolean may_cut, SbPage *page)
{
  double font = paint->font_pt, margin = SB_PAGE_MARGIN * font, inner = fmax (width_pt - 2 * margin, 1);
  double top = sb_page_lay_title (paint, page, margin, inner, margin) + 0.3 * font;
  double bottom = sb_page_lay_foot (paint, page, margin, inner, height_pt - margin);
  lay_names (paint, page, inner, may_cut);
  double left = margin + page->names_width + SB_NAMES_GAP * font;
  double room = fmax (width_pt - margin - RIGHT_ROOM * font - left, 1);
  lay_columns (paint, page, room);
  double columns = page->columns, width = fmax ((room - (columns - 1) * COLUMN_GAP * font) / columns, 1);
  double label = highest_label (paint, width), below = room_below (paint, label);
  guint rows = ((guint) page->n_plots + page->columns - 1) / MAX (page->columns, 1);
  double n_names = fmax (paint->model->rows->len, 1);
  double height = (bottom - top - (rows - 1) * PANEL_GAP * font) / rows - below;
  double needed = fmax (LOWEST_ROW * font, highest_name (paint, page) + ROW_AIR * font);
  gboolean has_room = height >= n_names * needed && width >= 0.7 * NARROWEST * font;
  height = fmin (fmax (height, 1), n_names * fmax (HIGHEST_ROW * font, needed));
  for (guint i = 0; i < page->n_plots; i++) {
    double across = i % page->columns * (width + COLUMN_GAP * font);
    double down = i / page->columns * (height + below + PANEL_GAP * font);
    page->plot[i] = (SbRect){ left + across, top + down, width, height };
    page->label_top[i] = top + down + height + below - label;
    gboolean last = i % page->columns == page->columns - 1;
    lay_ticks (paint, page, i, left + across + width + (last ? RIGHT_ROOM + SB_PAGE_MARGIN : COLUMN_GAP / 2) * font);
  }
  return has_room;
}
