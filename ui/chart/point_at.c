/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "point_at.h"

#include "axis_scale.h"

#include <math.h>

static void
place_of (const SbChartModel *model, const SbChartLayout *layout, gsize p, const SbPoint *point, double *x, double *y)
{
  const SbRect *plot = &layout->plot[p];
  const SbChartPanel *panel = g_ptr_array_index (model->panels, (guint) p);
  double right = plot->x + plot->width, bottom = plot->y + plot->height;
  if (model->view == SB_VIEW_SPREAD) {
    SbAxisScale row = { 0, model->rows->len, plot->y, bottom, FALSE };
    SbAxisScale value = { layout->y_min[p], layout->y_max[p], plot->x, right, FALSE };
    *x = sb_axis_scale_at (&value, point->value);
    *y = sb_axis_scale_at (&row, point->at);
    return;
  }
  SbAxisScale level = { layout->x_min, layout->x_max, plot->x, right, model->x_log };
  SbAxisScale value = { layout->y_min[p], layout->y_max[p], bottom, plot->y, panel->y_log };
  *x = sb_axis_scale_at (&level, point->at) + point->aside * layout->font_pt;
  *y = sb_axis_scale_at (&value, point->value);
}

const SbPoint *
sb_chart_point_at (const SbChartModel *model, const SbChartLayout *layout, double x_pt, double y_pt, double reach_pt,
                   gsize *panel)
{
  const SbPoint *nearest = NULL;
  double least = reach_pt;
  for (gsize p = 0; p < layout->n_plots && sb_view_is_of_points (model->view); p++) {
    const GArray *points = ((SbChartPanel *) g_ptr_array_index (model->panels, (guint) p))->points;
    for (guint i = 0; i < points->len; i++) {
      const SbPoint *point = &g_array_index (points, SbPoint, i);
      double x, y;
      place_of (model, layout, p, point, &x, &y);
      double distance = hypot (x - x_pt, y - y_pt);
      if (distance >= least)
        continue;
      least = distance;
      nearest = point;
      *panel = p;
    }
  }
  return nearest;
}

char *
sb_chart_point_text (const SbChartModel *model, gsize panel, const SbPoint *point)
{
  const SbChartPanel *shown = g_ptr_array_index (model->panels, (guint) panel);
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, point->configuration);
  const SbTrialResult *trial = sb_configuration_result_trial (configuration, point->trial);
  const SbMeasure *measure = &trial->measures->measure[shown->measure];
  g_autofree char *label = sb_trial_result_label (trial);
  g_autofree char *value = sb_measure_format_in (shown->measure, model->analysis->bench->units, measure->value,
                                                 measure->uncertainty, TRUE);
  return g_strdup_printf ("%s, %s: %s%s", configuration->name, label, value, point->hollow ? " (left out)" : "");
}
