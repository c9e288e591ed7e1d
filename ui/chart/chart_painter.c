/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint.h"

#include <math.h>

static void
paint_caption (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  const SbRect *plot = &page->plot[i];
  double width, height;
  if (panel->caption[0] == '\0')
    return;
  g_autofree char *caption = sb_text_keep_numbers (sb_page_caption (page, panel));
  sb_text_measure (paint, SB_TEXT_TICK, caption, page->title.width, SB_CAPTION_LINES, &width, &height);
  sb_text_paint (paint, SB_TEXT_TICK, caption, page->title.width, SB_CAPTION_LINES, plot->x,
                 plot->y - height - SB_CAPTION_GAP * paint->font_pt, 0);
}

static void
paint_plot (SbPaint *paint, const SbPage *page, gsize i, SbChartLayout *layout)
{
  const SbRect *plot = &page->plot[i];
  if (paint->model->view == SB_VIEW_SPREAD) {
    sb_paint_spread (paint, page, i);
    return;
  }
  paint_caption (paint, page, i);
  sb_paint_stretches (paint, page, i);
  sb_paint_grid (paint, page, i);
  cairo_save (paint->cr);
  sb_paint_clip (paint->cr, plot);
  sb_paint_bands (paint, page, i);
  sb_paint_curves (paint, page, i);
  sb_paint_marks (paint, page, i);
  sb_paint_label_tangents (paint, page, i);
  SbAxisScale level = sb_page_x_scale (page, i), value = sb_page_y_scale (page, i);
  sb_paint_rules (paint, i, &level, &value, FALSE);
  sb_paint_points (paint, i, &level, &value, FALSE);
  sb_paint_rule_labels (paint, page, i, &level, &value);
  cairo_restore (paint->cr);
  sb_paint_stretch_numbers (paint, page, i);
  sb_paint_axes (paint, page, i);
  sb_paint_callouts (paint, i, layout);
  sb_paint_labels (paint, i, layout);
}

static void
fill_layout (const SbPaint *paint, const SbPage *page, SbChartLayout *layout)
{
  *layout = (SbChartLayout){
    .n_plots = page->n_plots, .x_min = page->x[0].low, .x_max = page->x[0].high, .font_pt = paint->font_pt
  };
  layout->n_below = paint->below != NULL ? paint->below->len : 0;
  for (gsize i = 0; i < page->n_plots; i++) {
    layout->plot[i] = page->plot[i];
    layout->y_min[i] = page->y_low[i];
    layout->y_max[i] = page->y_high[i];
  }
}

static void
paint_page (SbPaint *paint, const SbPage *page, SbChartLayout *layout)
{
  if (page->title.height > 0)
    sb_text_paint (paint, SB_TEXT_TITLE, paint->model->title, page->title.width, SB_TITLE_LINES, page->title.x,
                   page->title.y, 0);
  if (page->legend.height > 0)
    sb_paint_legend (paint, page);
  for (gsize i = 0; i < page->n_plots; i++)
    paint_plot (paint, page, i, layout);
  if (page->below.height > 0) {
    g_autofree char *below = sb_text_keep_numbers (paint->below_text);
    sb_text_paint (paint, SB_TEXT_FOOT, below, page->below.width, SB_BELOW_LINES, page->below.x, page->below.y, 0);
  }
  if (page->foot.height > 0) {
    g_autofree char *foot = sb_text_keep_numbers (paint->model->foot);
    sb_text_paint (paint, SB_TEXT_FOOT, foot, page->foot.width, SB_FOOT_LINES, page->foot.x, page->foot.y, 0);
  }
}

void
sb_chart_paint_noting (const SbChartModel *model, cairo_t *cr, double width_pt, double height_pt, double font_pt,
                       SbChartLayout *layout, GArray *boxes)
{
  SbPaint paint;
  SbPage page;
  cairo_save (cr);
  sb_paint_begin (&paint, model, cr);
  if (!sb_ground_is_transparent (model->paper.ground)) {
    sb_paint_source (&paint, (SbColour){ 1, 1, 1 }, 1);
    cairo_rectangle (cr, 0, 0, width_pt, height_pt);
    cairo_fill (cr);
  }
  paint.boxes = boxes;
  sb_page_lay_out (&paint, width_pt, height_pt, font_pt, &page);
  if (layout != NULL)
    fill_layout (&paint, &page, layout);
  if (page.n_plots > 0)
    paint_page (&paint, &page, layout);
  sb_paint_end (&paint);
  cairo_restore (cr);
}

void
sb_chart_paint (const SbChartModel *model, cairo_t *cr, double width_pt, double height_pt, double font_pt,
                SbChartLayout *layout)
{
  sb_chart_paint_noting (model, cr, width_pt, height_pt, font_pt, layout, NULL);
}

static double
distance_from (const SbRect *rect, double x, double y)
{
  double dx = fmax (fmax (rect->x - x, x - rect->x - rect->width), 0);
  double dy = fmax (fmax (rect->y - y, y - rect->y - rect->height), 0);
  return hypot (dx, dy);
}

const SbCalloutPlace *
sb_chart_layout_callout_at (const SbChartLayout *layout, double x_pt, double y_pt, double reach_pt)
{
  const SbCalloutPlace *nearest = NULL;
  for (gsize i = 0; i < layout->n_callouts; i++) {
    const SbCalloutPlace *place = &layout->callout[i];
    double distance = fmin (distance_from (&place->label, x_pt, y_pt), hypot (place->x - x_pt, place->y - y_pt));
    if (distance > reach_pt)
      continue;
    reach_pt = distance;
    nearest = place;
  }
  return nearest;
}

double
sb_chart_layout_time_at (const SbChartLayout *layout, double x_pt)
{
  const SbRect *plot = &layout->plot[0];
  SbAxisScale x = { layout->x_min, layout->x_max, plot->x, plot->x + plot->width, FALSE };
  return sb_axis_scale_value (&x, x_pt);
}

double
sb_chart_layout_x_of (const SbChartLayout *layout, double time_s)
{
  const SbRect *plot = &layout->plot[0];
  SbAxisScale x = { layout->x_min, layout->x_max, plot->x, plot->x + plot->width, FALSE };
  return sb_axis_scale_at (&x, time_s);
}

double
sb_chart_layout_y_of (const SbChartLayout *layout, gsize panel, double value)
{
  const SbRect *plot = &layout->plot[panel];
  SbAxisScale y = { layout->y_min[panel], layout->y_max[panel], plot->y + plot->height, plot->y, FALSE };
  return sb_axis_scale_at (&y, value);
}

/* Pango reads the font configuration in a thread of its own as soon as there is a font map. */
void
sb_chart_prepare (void)
{
  pango_cairo_font_map_get_default ();
}
