/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks that show where a measure comes from. */
#include "model_parts.h"

static void
add_evidence (GArray *marks, guint index, guint style, const SbMeasure *measure)
{
  for (gsize i = 0; i < measure->n_evidence; i++) {
    const SbEvidence *evidence = &measure->evidence[i];
    SbMark mark = {
      .kind = evidence->kind,
      .configuration = index,
      .style = style,
      .x = evidence->t_s,
      .y = evidence->y,
      .slope = evidence->slope_per_s,
      .x_end = evidence->t_s,
    };
    if (evidence->kind == SB_EVIDENCE_LEVEL) {
      mark.x = measure->window_s[0];
      mark.x_end = measure->window_s[1];
    }
    g_array_append_val (marks, mark);
  }
}

void
sb_chart_model_add_marks (SbChartModel *model, int evidence)
{
  if (evidence < 0)
    return;
  for (guint p = 0; p < model->panels->len; p++) {
    SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint c = 0; c < model->analysis->configurations->len; c++) {
      const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
      if (panel->difference || panel->derived != NULL || !sb_chart_is_drawn (model->analysis, c))
        continue;
      const SbTrialResult *trial = sb_chart_first_used_trial (configuration);
      if (trial != NULL && trial->measures != NULL && trial->measures->measure[evidence].present
          && sb_measures_channel (trial->measures, (SbMeasureId) evidence) == sb_panel_channel (panel->panel))
        add_evidence (panel->marks, c, configuration->style, &trial->measures->measure[evidence]);
    }
  }
}
