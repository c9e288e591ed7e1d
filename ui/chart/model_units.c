/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves in the unit that is shown: everything behind this point reads the numbers of the axis. */
#include "model_parts.h"

static const double *
scaled (SbChartModel *model, const double *values, gsize n, double factor)
{
  double *own = sb_chart_model_keep (model, g_new (double, n));
  for (gsize i = 0; i < n; i++)
    own[i] = factor * values[i];
  return own;
}

static void
scale_panel (SbChartModel *model, SbChartPanel *panel, double factor)
{
  for (guint i = 0; i < panel->curves->len; i++) {
    SbCurve *curve = &g_array_index (panel->curves, SbCurve, i);
    curve->y = scaled (model, curve->y, curve->n_points, factor);
  }
  for (guint i = 0; i < panel->bands->len; i++) {
    SbBandArea *band = &g_array_index (panel->bands, SbBandArea, i);
    band->lower = scaled (model, band->lower, band->n_points, factor);
    band->upper = scaled (model, band->upper, band->n_points, factor);
  }
  for (guint i = 0; i < panel->marks->len; i++) {
    SbMark *mark = &g_array_index (panel->marks, SbMark, i);
    mark->y *= factor;
    mark->slope *= factor;
  }
  for (guint i = 0; i < panel->labels->len; i++) {
    SbLabelMark *label = &g_array_index (panel->labels, SbLabelMark, i);
    label->y *= factor;
    label->slope *= factor;
  }
}

void
sb_chart_model_apply_unit (SbChartModel *model, SbChartPanel *panel)
{
  double factor = sb_channel_shown_unit (sb_panel_channel (panel->panel), model->analysis->bench->units).factor;
  if (factor < 1 || factor > 1)
    scale_panel (model, panel, factor);
}

void
sb_chart_model_apply_units (SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++)
    sb_chart_model_apply_unit (model, g_ptr_array_index (model->panels, p));
}
