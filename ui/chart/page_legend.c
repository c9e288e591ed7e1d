/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the legend stands: above or below the panels in columns, or beside them, one entry under the other. */
#include "paint.h"

#include <math.h>
#include <string.h>

/* In sizes of axis numbers. */
#define GAP        0.7
#define COLUMN_GAP 1.6
#define NARROW_GAP 0.5  /* where entries go on in a second line to stand side by side */
#define WORTH_IT   1.0  /* what that has to save */
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

double
sb_legend_row_height (SbPaint *paint, const SbPage *page, guint row)
{
  const GArray *legend = paint->model->legend;
  double highest = 0;
  for (guint i = row * page->legend_columns; i < MIN ((row + 1) * page->legend_columns, legend->len); i++) {
    g_autofree char *text = sb_legend_words (page, &g_array_index (legend, SbLegendEntry, i));
    double width, height;
    sb_text_measure (paint, SB_TEXT_LEGEND, text, page->legend_room + SB_LEGEND_HAIR * paint->font_pt,
                     page->legend_lines, &width, &height);
    highest = fmax (highest, height);
  }
  return highest + SB_LEGEND_ROW_GAP * paint->font_pt;
}

static guint
count_rows (const SbPaint *paint, const SbPage *page)
{
  return (paint->model->legend->len + page->legend_columns - 1) / page->legend_columns;
}

static double
all_rows (SbPaint *paint, const SbPage *page)
{
  double sum = 0;
  for (guint row = 0; row < count_rows (paint, page); row++)
    sum += sb_legend_row_height (paint, page, row);
  return sum;
}

/* Columns as wide as the longest entry, as many as there is room for. */
static void
lay_legend_columns (SbPaint *paint, SbPage *page, double width)
{
  guint n = paint->model->legend->len;
  double font = paint->font_pt, room = fmax (width - SB_LEGEND_SAMPLE * font, 1), widest, highest, all;
  page->legend_lines = LINES;
  measure_legend (paint, page, room, page->legend_lines, &widest, &highest, &all);
  page->legend_column_width = widest + (SB_LEGEND_SAMPLE + COLUMN_GAP) * font;
  double fit = floor ((width + COLUMN_GAP * font) / page->legend_column_width + 1e-9);
  page->legend_columns = (guint) CLAMP (fit, 1, (double) n);
  page->legend_room = page->legend_columns == 1 ? room : widest;
}

static gboolean
any_is_cut (SbPaint *paint, const SbPage *page, double room)
{
  const GArray *legend = paint->model->legend;
  for (guint i = 0; i < legend->len; i++) {
    g_autofree char *text = sb_legend_words (page, &g_array_index (legend, SbLegendEntry, i));
    if (sb_text_is_cut (paint, SB_TEXT_LEGEND, text, room, LINES))
      return TRUE;
  }
  return FALSE;
}

/* One column more than entries on one line allow, in which the longest go on in a second line; FALSE: it is not lower,
 * or some word is too long for that. */
static gboolean
lay_one_column_more (SbPaint *paint, SbPage *page, double width, double height)
{
  SbPage more = *page;
  double font = paint->font_pt;
  more.legend_columns++;
  if (more.legend_columns > paint->model->legend->len)
    return FALSE;
  more.legend_column_width = (width + NARROW_GAP * font) / more.legend_columns;
  more.legend_room = more.legend_column_width - (SB_LEGEND_SAMPLE + NARROW_GAP) * font;
  if (more.legend_room < widest_piece (paint) || any_is_cut (paint, &more, more.legend_room)
      || all_rows (paint, &more) > height - WORTH_IT * font)
    return FALSE;
  *page = more;
  return TRUE;
}

/* The legend of a figure, from `room` or, where that makes it lower, from the margin of the page on: in as many columns
 * as make it lowest. */
static void
lay_legend_low (SbPaint *paint, SbPage *page, const SbFree *room)
{
  double margin = SB_PAGE_MARGIN * paint->font_pt;
  SbPage best = *page;
  double lowest = HUGE_VAL;
  for (int side = 0; side < 2; side++) {
    SbPage tried = *page;
    tried.legend.x = side == 0 ? room->left : fmin (margin, room->left);
    tried.legend.width = room->left + room->width - tried.legend.x;
    lay_legend_columns (paint, &tried, tried.legend.width);
    double height = all_rows (paint, &tried);
    if (lay_one_column_more (paint, &tried, tried.legend.width, height))
      height = all_rows (paint, &tried);
    if (height > lowest - WORTH_IT * paint->font_pt)
      continue;
    lowest = height;
    best = tried;
  }
  *page = best;
  guint n = paint->model->legend->len, rows = count_rows (paint, page);
  page->legend_columns = (n + rows - 1) / rows;
  page->legend.height = all_rows (paint, page);
}

/* A legend that gives way goes without the settings first, which makes room for more columns, then without entries. */
static void
lay_legend_giving_way (SbPaint *paint, SbPage *page, double width, double most_height)
{
  lay_legend_columns (paint, page, width);
  if (all_rows (paint, page) > fmax (most_height, FEWEST_ROWS * sb_legend_row_height (paint, page, 0))) {
    page->legend_short = TRUE;
    lay_legend_columns (paint, page, width);
  }
  guint n = paint->model->legend->len, n_rows = count_rows (paint, page), rows = 0;
  for (; rows < n_rows; rows++) {
    double height = sb_legend_row_height (paint, page, rows);
    if (rows >= FEWEST_ROWS && page->legend.height + height > most_height)
      break;
    page->legend.height += height;
  }
  if (rows < n_rows) {
    page->legend_shown = rows * page->legend_columns - 1; /* and the count of the others */
  } else {
    page->legend_columns = (n + rows - 1) / rows;
    page->legend.height = all_rows (paint, page);
  }
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
  if (paint->model->legend_gives_way)
    lay_legend_giving_way (paint, page, room->width, GIVING_SHARE * (room->bottom - room->top));
  else
    lay_legend_low (paint, page, room);
  if (place == SB_LEGEND_ABOVE) {
    room->top = room->top + page->legend.height + gap;
  } else {
    page->legend.y = room->bottom - page->legend.height;
    room->bottom = page->legend.y - gap;
  }
  return TRUE;
}
