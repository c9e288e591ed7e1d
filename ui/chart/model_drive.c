/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fitted model of the drive, laid over the mean curves it was fitted to. */
#include "model_parts.h"

static const double *
fitted_curve (const SbDriveModel *drive, SbPanel panel)
{
  if (drive == NULL || !drive->present)
    return NULL;
  switch (panel) {
  case SB_PANEL_VELOCITY:
    return drive->velocity;
  case SB_PANEL_TORQUE:
    return drive->torque;
  case SB_PANEL_ANGLE:
  case SB_PANEL_COMMAND:
  case SB_N_PANELS:
    break;
  }
  return NULL;
}

void
sb_chart_model_add_fits (SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint c = 0; c < model->analysis->configurations->len; c++) {
      const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
      if (panel->difference || panel->derived != NULL || !sb_chart_is_drawn (model->analysis, c))
        continue;
      const SbEnsemble *ensemble = configuration->ensemble;
      SbCurve fit = {
        .configuration = c,
        .style = configuration->style,
        .n_points = ensemble->n_points,
        .x0 = (double) ensemble->first * ensemble->grid_step_s,
        .dx = ensemble->grid_step_s,
        .y = fitted_curve (configuration->drive, panel->panel),
        .thin = TRUE,
        .fit = TRUE,
      };
      if (fit.y != NULL)
        g_array_append_val (panel->curves, fit);
    }
  }
}
