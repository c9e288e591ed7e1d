/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the legend stands: above or below the panels in columns, or beside them, one entry under the other. */
#include "paint.h"

#include <math.h>
#include <string.h>

/* In sizes of axis numbers. */
#define GAP        0.7
#define COLUMN_GAP 1.6
#define SLACK      0.05 /* beside the longest word: widths are rounded when lines are broken */

/* A legend beside the panels takes this share of the chart's width, or more for its longest word; where that is more
 * than the latter share it goes below. */
#define SHARE      0.32
#define MOST_SHARE 0.42

/* Rows of a legend that gives way: no more than this share of the room's height, and no fewer than so many. */
#define GIVING_SHARE 0.25
#define FEWEST_ROWS  2

/* The most lines of an entry, in columns and beside the panels. */
#define LINES      2
#define SIDE_LINES 5

char *
sb_legend_words (const SbPage *page, const SbLegendEntry *entry)
{
  gsize length = page->legend_short && entry->count_end > 0 ? entry->count_end : strlen (entry->text);
  g_autofree char *text = g_strndup (entry->text, length);
  return sb_text_keep_settings (text, entry->count_end > 0 ? entry->count_at : length);
}

/* How wide the entries' text is, how high the highest and how high all together, in `room`: what is longer goes on
 * below, in no more than `lines`. */
static void
measure_legend (SbPaint *paint, const SbPage *page, double room, int lines, double *widest, double *highest,
                double *all)
{
  const GArray *legend = paint->model->legend;
  *widest = *highest = *all = 0;
  for (guint i = 0; i < legend->len; i++) {
    g_autofree char *text = sb_legend_words (page, &g_array_index (legend, SbLegendEntry, i));
    double width, height;
    sb_text_measure (paint, SB_TEXT_LEGEND, text, 0, 1, &width, &height);
    if (width > room)
      sb_text_measure (paint, SB_TEXT_LEGEND, text, room, lines, &width, &height);
    *widest = fmax (*widest, fmin (width, room));
    *highest = fmax (*highest, height);
    *all += height + SB_LEGEND_ROW_GAP * paint->font_pt;
  }
}

/* Of the longest piece that is not broken. */
static double
widest_piece (SbPaint *paint)
{
  const GArray *legend = paint->model->legend;
  double widest = 0;
  for (guint i = 0; i < legend->len; i++) {
    const SbLegendEntry *entry = &g_array_index (legend, SbLegendEntry, i);
    g_autofree char *text
        = sb_text_keep_settings (entry->text, entry->count_end > 0 ? entry->count_at : strlen (entry->text));
    g_auto (GStrv) words = g_strsplit (text, " ", -1);
    for (gsize k = 0; words[k] != NULL; k++) {
      double width, height;
      sb_text_measure (paint, SB_TEXT_LEGEND, words[k], 0, 1, &width, &height);
      widest = fmax (widest, width);
    }
  }
  return widest;
}

/* Columns as wide as the longest entry, as many as there is room for. Returns the number of rows. */
static guint
lay_legend_columns (SbPaint *paint, SbPage *page, double width)
{
  guint n = paint->model->legend->len;
  double font = paint->font_pt, room = fmax (width - SB_LEGEND_SAMPLE * font, 1), widest, highest, all;
  page->legend_lines = LINES;
  measure_legend (paint, page, room, page->legend_lines, &widest, &highest, &all);
  page->legend_column_width = widest + (SB_LEGEND_SAMPLE + COLUMN_GAP) * font;
  double fit = floor ((width + COLUMN_GAP * font) / page->legend_column_width + 1e-9);
  page->legend_columns = (guint) CLAMP (fit, 1, (double) n);
  page->legend_row_height = highest + SB_LEGEND_ROW_GAP * font;
  page->legend_room = page->legend_columns == 1 ? room : widest;
  return (n + page->legend_columns - 1) / page->legend_columns;
}

/* A legend that gives way goes without the settings first, which makes room for more columns, then without entries. */
static void
lay_legend_rows (SbPaint *paint, SbPage *page, double width, double most_height)
{
  guint n = paint->model->legend->len, rows = lay_legend_columns (paint, page, width);
  if (paint->model->legend_gives_way && rows > fmax (most_height / page->legend_row_height, FEWEST_ROWS)) {
    page->legend_short = TRUE;
    rows = lay_legend_columns (paint, page, width);
  }
  guint most = (guint) fmax (most_height / page->legend_row_height, FEWEST_ROWS);
  if (paint->model->legend_gives_way && rows > most) {
    rows = most;
    page->legend_shown = rows * page->legend_columns - 1; /* and the count of the others */
  } else {
    page->legend_columns = (n + rows - 1) / rows;
  }
  page->legend.height = rows * page->legend_row_height;
}

/* One column beside the panels, each entry as high as its text. */
static void
lay_legend_column (SbPaint *paint, SbPage *page, double width, double widest)
{
  double font = paint->font_pt, highest;
  double room = fmax (SHARE * width - SB_LEGEND_SAMPLE * font, widest + SLACK * font);
  page->legend_lines = SIDE_LINES;
  measure_legend (paint, page, room, page->legend_lines, &page->legend_room, &highest, &page->legend.height);
  page->legend_columns = 1;
  page->legend_row_height = NAN;
  page->legend_column_width = page->legend.width = page->legend_room + SB_LEGEND_SAMPLE * font;
}

gboolean
sb_page_lay_legend (SbPaint *paint, SbPage *page, SbFree *room)
{
  SbLegendPlace place = paint->model->paper.legend;
  SbView view = paint->model->view;
  /* The words of these stand at the right edge of their panels and run on beyond it. */
  if (place == SB_LEGEND_RIGHT && (view == SB_VIEW_SWEEP || view == SB_VIEW_PLAN))
    place = SB_LEGEND_BELOW;
  double widest = place == SB_LEGEND_RIGHT ? widest_piece (paint) : 0;
  page->legend_moved
      = place == SB_LEGEND_RIGHT && widest + SB_LEGEND_SAMPLE * paint->font_pt > MOST_SHARE * room->width;
  place = page->legend_moved ? SB_LEGEND_BELOW : place;
  double gap = GAP * paint->font_pt;
  page->legend = (SbRect){ room->left, room->top, room->width, 0 };
  page->legend_shown = paint->model->legend->len;
  page->legend_short = FALSE;
  if (paint->model->legend->len == 0 || place == SB_LEGEND_NONE)
    return TRUE;
  if (place == SB_LEGEND_RIGHT) {
    lay_legend_column (paint, page, room->width, widest);
    room->width = fmax (room->width - page->legend.width - COLUMN_GAP * paint->font_pt, 1);
    page->legend.x = room->left + room->width + COLUMN_GAP * paint->font_pt;
    return room->top + page->legend.height <= room->bottom;
  }
  lay_legend_rows (paint, page, room->width, GIVING_SHARE * (room->bottom - room->top));
  if (place == SB_LEGEND_ABOVE) {
    room->top = room->top + page->legend.height + gap;
  } else {
    page->legend.y = room->bottom - page->legend.height;
    room->bottom = page->legend.y - gap;
  }
  return TRUE;
}
