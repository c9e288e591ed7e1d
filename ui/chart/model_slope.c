/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The torque's slope over time. A least-squares slope over a window is linear in the torque, so the slope of a mean
 * curve is the mean of the repeats' slopes. */
#include "model_parts.h"

#include "local_fit.h"

#include <math.h>

#define DEFAULT_WINDOW_S 1e-3
#define SMALLEST_HALF    2

static SbShownUnit
shown_slope (const SbChartModel *model)
{
  return sb_measure_shown_unit (SB_MEASURE_PEAK_TORQUE_SLOPE, model->analysis->bench->units);
}

/* As of the peak slope: 5 samples at least. */
static gsize
half_window (const SbBench *bench, double step_s)
{
  double window_s = bench->measure.slope_window_s > 0 ? bench->measure.slope_window_s : DEFAULT_WINDOW_S;
  double half = floor (window_s / (2 * step_s) + 0.5);
  return half <= SMALLEST_HALF ? SMALLEST_HALF : (gsize) fmin (half, 1e9);
}

static void
add_slope (SbChartModel *model, SbChartPanel *panel, guint c, const double *torque, gboolean thin)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
  const SbEnsemble *ensemble = configuration->ensemble;
  gsize n = ensemble->n_points, half = half_window (model->analysis->bench, ensemble->grid_step_s);
  if (n < 2 * half + 1)
    return;
  double factor = shown_slope (model).factor;
  double *slope = sb_chart_model_keep (model, g_new (double, n));
  for (gsize i = 0; i < n; i++)
    slope[i] = i < half || i + half >= n ? (double) NAN
                                         : sb_local_slope (NULL, torque, i, half, ensemble->grid_step_s) * factor;
  SbCurve curve = {
    .configuration = c,
    .style = configuration->style,
    .n_points = n,
    .x0 = (double) ensemble->first * ensemble->grid_step_s,
    .dx = ensemble->grid_step_s,
    .y = slope,
    .thin = thin,
  };
  g_array_append_val (panel->curves, curve);
}

static void
add_trials (SbChartModel *model, SbChartPanel *panel, guint c)
{
  const SbEnsemble *ensemble = sb_analysis_configuration (model->analysis, c)->ensemble;
  if (!model->analysis->bench->chart.trial_lines || ensemble->kept == NULL || ensemble->n_trials < 2)
    return;
  g_autofree double *torque = g_new (double, ensemble->n_points);
  for (guint t = 0; t < ensemble->kept->len; t++) {
    sb_ensemble_resample (ensemble, g_ptr_array_index (ensemble->kept, t), SB_CHANNEL_TORQUE, torque);
    add_slope (model, panel, c, torque, TRUE);
  }
}

void
sb_chart_model_add_slopes (SbChartModel *model)
{
  SbChartPanel *panel
      = sb_chart_model_add_panel (model, g_strdup_printf ("Torque slope [%s]", shown_slope (model).name));
  panel->panel = SB_PANEL_TORQUE;
  panel->derived = "torque slope";
  for (int thin = 1; thin >= 0; thin--)
    for (guint c = 0; c < model->analysis->configurations->len; c++) {
      const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
      if (!sb_chart_is_drawn (model->analysis, c) || configuration->ensemble->curve[SB_CHANNEL_TORQUE] == NULL)
        continue;
      if (thin)
        add_trials (model, panel, c);
      else
        add_slope (model, panel, c, configuration->ensemble->curve[SB_CHANNEL_TORQUE]->mean, FALSE);
    }
  if (panel->curves->len > 0)
    return;
  g_ptr_array_remove_index (model->panels, model->panels->len - 1);
  if (model->panels->len == 0)
    model->absent_reason = g_strdup ("Of what is drawn no log has a torque, or an inertia to work it out with.");
}
