/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint.h"

#include <math.h>

#define SAMPLE_WIDTH  3.6
#define SWATCH_HEIGHT 0.85
#define LINE_WIDTH    1.6
#define TREND_WIDTH   0.9

static gboolean
has_band (const SbChartModel *model, guint configuration)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint k = 0; k < panel->bands->len; k++)
      if (g_array_index (panel->bands, SbBandArea, k).configuration == configuration)
        return TRUE;
  }
  return FALSE;
}

static gboolean
has_trend (const SbChartModel *model, guint series)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint k = 0; k < panel->rules->len; k++) {
      const SbRule *rule = &g_array_index (panel->rules, SbRule, k);
      if (rule->kind == SB_RULE_TREND && rule->series == series)
        return TRUE;
    }
  }
  return FALSE;
}

/* A series of a sweep: its shape, as a mean has it, on its trend line. */
static void
paint_series (SbPaint *paint, guint series, SbColour colour, double x, double middle)
{
  double width = SAMPLE_WIDTH * paint->font_pt;
  sb_paint_pen (paint, colour, 1, TREND_WIDTH);
  if (has_trend (paint->model, series))
    sb_paint_sample (paint, sb_style_get (series), TREND_WIDTH, x, middle, width);
  sb_paint_ring (paint, series, colour, x + width / 2, middle);
}

static void
paint_sample (SbPaint *paint, const SbLegendEntry *entry, double x, double middle)
{
  const SbStyle *style = sb_style_get (entry->style);
  double width = SAMPLE_WIDTH * paint->font_pt, height = SWATCH_HEIGHT * paint->font_pt;
  if (entry->series >= 0) {
    paint_series (paint, (guint) entry->series, style->colour, x, middle);
    return;
  }
  double faint = sb_paint_faintness (paint, g_ptr_array_index (paint->model->panels, 0), entry->configuration);
  if (has_band (paint->model, entry->configuration)) {
    sb_paint_pen (paint, style->colour, 0.18 * faint, 1);
    cairo_rectangle (paint->cr, x, middle - height / 2, width, height);
    cairo_fill (paint->cr);
  }
  sb_paint_pen (paint, style->colour, faint, LINE_WIDTH);
  sb_paint_sample (paint, style, LINE_WIDTH, x, middle, width);
}

/* In the place of the first entry that is not drawn. */
static void
paint_rest (SbPaint *paint, const SbPage *page)
{
  guint i = page->legend_shown, n = paint->model->legend->len;
  if (i >= n)
    return;
  g_autofree char *text = g_strdup_printf ("and %u more", n - i);
  double width, height, x = page->legend.x + (i % page->legend_columns) * page->legend_column_width;
  sb_text_measure (paint, SB_TEXT_LEGEND, text, 0, 1, &width, &height);
  double y = page->legend.y + (i / page->legend_columns) * page->legend_row_height;
  sb_text_paint (paint, SB_TEXT_LEGEND, text, 0, 1, x + SB_LEGEND_SAMPLE * paint->font_pt,
                 y + (page->legend_row_height - height) / 2, 0);
}

void
sb_paint_legend (SbPaint *paint, const SbPage *page)
{
  const GArray *legend = paint->model->legend;
  double font = paint->font_pt, next_y = page->legend.y;
  for (guint i = 0; i < page->legend_shown; i++) {
    const SbLegendEntry *entry = &g_array_index (legend, SbLegendEntry, i);
    guint column = i % page->legend_columns, row = i / page->legend_columns;
    double x = page->legend.x + column * page->legend_column_width;
    g_autofree char *text = sb_legend_words (page, entry);
    double width, height, line;
    /* A hair more room than was measured: rounding must not wrap it. */
    double room = page->legend_room + 0.05 * font;
    sb_text_measure (paint, SB_TEXT_LEGEND, "0", 0, 1, &width, &line);
    sb_text_measure (paint, SB_TEXT_LEGEND, text, room, page->legend_lines, &width, &height);
    double text_y = page->legend.y + row * page->legend_row_height + (page->legend_row_height - height) / 2;
    if (isnan (page->legend_row_height)) {
      text_y = next_y + SB_LEGEND_ROW_GAP * font / 2;
      next_y += height + SB_LEGEND_ROW_GAP * font;
    }
    paint_sample (paint, entry, x, text_y + line / 2);
    sb_text_paint (paint, SB_TEXT_LEGEND, text, room, page->legend_lines, x + SB_LEGEND_SAMPLE * font, text_y, 0);
  }
  paint_rest (paint, page);
}
