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
paint_rest (SbPaint *paint, const SbPage *page, double x, double y)
{
  g_autofree char *text = g_strdup_printf ("and %u more", paint->model->legend->len - page->legend_shown);
  sb_text_paint (paint, SB_TEXT_LEGEND, text, 0, 1, x + SB_LEGEND_SAMPLE * paint->font_pt,
                 y + SB_LEGEND_ROW_GAP * paint->font_pt / 2, 0);
}

static void
paint_entry (SbPaint *paint, const SbPage *page, const SbLegendEntry *entry, double x, double y)
{
  double font = paint->font_pt, width, line, text_y = y + SB_LEGEND_ROW_GAP * font / 2;
  g_autofree char *text = sb_legend_words (page, entry);
  sb_text_measure (paint, SB_TEXT_LEGEND, "0", 0, 1, &width, &line);
  paint_sample (paint, entry, x, text_y + line / 2);
  sb_text_paint (paint, SB_TEXT_LEGEND, text, page->legend_room + SB_LEGEND_HAIR * font, page->legend_lines,
                 x + SB_LEGEND_SAMPLE * font, text_y, 0);
}

void
sb_paint_legend (SbPaint *paint, const SbPage *page)
{
  const GArray *legend = paint->model->legend;
  double y = page->legend.y, height = 0;
  for (guint i = 0; i < MIN (page->legend_shown + 1, legend->len); i++) {
    guint column = i % page->legend_columns;
    if (column == 0) {
      y += height;
      height = sb_legend_row_height (paint, page, i / page->legend_columns);
    }
    double x = page->legend.x + column * page->legend_column_width;
    if (i < page->legend_shown)
      paint_entry (paint, page, &g_array_index (legend, SbLegendEntry, i), x, y);
    else
      paint_rest (paint, page, x, y);
  }
}
