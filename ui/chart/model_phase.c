/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The phase planes: mean velocity over mean angle, mean torque over mean velocity, with a dot at the onset. */
#include "model_parts.h"

#include <math.h>

/* Air at both ends of the axis along x. */
#define AIR_RATIO 0.04

typedef struct {
  SbPanel along, up;
  const char *words;
} Plane;

static const Plane planes[] = {
  { SB_PANEL_ANGLE, SB_PANEL_VELOCITY, "velocity over angle" },
  { SB_PANEL_VELOCITY, SB_PANEL_TORQUE, "torque over velocity" },
};

static char *
axis_label (const SbChartModel *model, SbPanel panel)
{
  SbChannel channel = sb_panel_channel (panel);
  return g_strdup_printf ("%s [%s]", sb_channel_name (channel),
                          sb_channel_shown_unit (channel, model->analysis->bench->units).name);
}

/* Points of the grid within the time shown. */
static void
range_of_grid (const SbChartModel *model, const SbEnsemble *ensemble, gsize *first, gsize *end)
{
  double x0 = (double) ensemble->first * ensemble->grid_step_s, last = (double) ensemble->n_points;
  *first = (gsize) CLAMP (ceil ((model->x_min - x0) / ensemble->grid_step_s - 1e-6), 0, last);
  *end = (gsize) CLAMP (floor ((model->x_max - x0) / ensemble->grid_step_s + 1e-6) + 1, (double) *first, last);
}

static void
mark_onset (SbChartPanel *panel, const SbCurve *curve, const SbEnsemble *ensemble, gsize first)
{
  gint64 onset = -ensemble->first - (gint64) first;
  if (onset < 0 || onset >= (gint64) curve->n_points)
    return;
  SbMark mark = { SB_EVIDENCE_PEAK, curve->configuration, curve->style, curve->x[onset], curve->y[onset], 0, 0 };
  if (!isnan (mark.x) && !isnan (mark.y))
    g_array_append_val (panel->marks, mark);
}

static void
add_curve (SbChartModel *model, SbChartPanel *panel, const Plane *plane, guint c)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
  const SbEnsemble *ensemble = configuration->ensemble;
  const SbMeanCurve *along = ensemble->curve[sb_panel_channel (plane->along)];
  const SbMeanCurve *up = ensemble->curve[sb_panel_channel (plane->up)];
  gsize first, end;
  range_of_grid (model, ensemble, &first, &end);
  if (along == NULL || up == NULL || end <= first)
    return;
  SbCurve curve = {
    .configuration = c,
    .style = configuration->style,
    .n_points = end - first,
    .x = along->mean + first,
    .y = up->mean + first,
  };
  for (gsize i = 0; i < curve.n_points; i++) {
    panel->x.low = fmin (panel->x.low, curve.x[i]);
    panel->x.high = fmax (panel->x.high, curve.x[i]);
  }
  g_array_append_val (panel->curves, curve);
  mark_onset (panel, &curve, ensemble, first);
}

static void
add_plane (SbChartModel *model, const Plane *plane)
{
  SbChartPanel *panel = sb_chart_model_add_panel (model, axis_label (model, plane->up));
  panel->panel = plane->up;
  panel->derived = plane->words;
  panel->is_path = TRUE;
  double factor = sb_channel_shown_unit (sb_panel_channel (plane->along), model->analysis->bench->units).factor;
  panel->x = (SbOwnAxis){ axis_label (model, plane->along), HUGE_VAL, -HUGE_VAL, factor };
  for (guint c = 0; c < model->analysis->configurations->len; c++)
    if (sb_chart_is_drawn (model->analysis, c))
      add_curve (model, panel, plane, c);
  if (panel->curves->len == 0) {
    g_ptr_array_remove_index (model->panels, model->panels->len - 1);
    return;
  }
  double air = AIR_RATIO * (panel->x.high - panel->x.low);
  panel->x.low -= air;
  panel->x.high += air;
  sb_chart_model_apply_unit (model, panel);
  sb_chart_set_value_range (model, panel);
}

void
sb_chart_model_add_phase (SbChartModel *model)
{
  sb_chart_model_set_time_range (model);
  for (gsize i = 0; i < G_N_ELEMENTS (planes); i++)
    add_plane (model, &planes[i]);
  if (model->panels->len == 0)
    model->absent_reason = g_strdup ("Of what is drawn no log has velocity with angle or with torque.");
  sb_chart_model_add_legend (model);
  sb_chart_model_set_foot (model, -1);
}

void
sb_chart_append_phase (GString *foot, const SbChartModel *model)
{
  g_string_append_printf (foot, "Means of the repeats from %s", model->x_min < 0 ? "−" : "");
  sb_chart_append_number (foot, 1000 * fabs (model->x_min));
  g_string_append (foot, " to ");
  sb_chart_append_number (foot, 1000 * model->x_max);
  g_string_append (foot, " ms after the step; dots: the onset. ");
}
