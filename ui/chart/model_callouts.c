/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Callouts at their points: where the mean curve they are on is drawn. */
#include "model_parts.h"

#include <math.h>

static void
add_of_configuration (SbChartModel *model, guint p, guint c)
{
  SbChartPanel *panel = g_ptr_array_index (model->panels, p);
  const SbConfiguration *configuration = sb_bench_configuration (model->analysis->bench, c);
  for (guint i = 0; i < configuration->callouts->len; i++) {
    const SbCallout *callout = sb_callouts_get (configuration->callouts, i);
    if (callout->panel != panel->panel)
      continue;
    SbCalloutMark mark = {
      .configuration = c,
      .index = i,
      .style = configuration->style,
      .x = callout->time_s,
      .y = sb_chart_model_value_at (model, p, c, callout->time_s),
      .label = { callout->label[0], callout->label[1] },
      .text = callout->text,
    };
    if (!isnan (mark.y))
      g_array_append_val (panel->callouts, mark);
  }
}

void
sb_chart_model_add_callouts (SbChartModel *model)
{
  guint n = MIN (model->analysis->configurations->len, model->analysis->bench->configurations->len);
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint c = 0; c < n && !panel->difference && panel->derived == NULL; c++)
      add_of_configuration (model, p, c);
  }
}
