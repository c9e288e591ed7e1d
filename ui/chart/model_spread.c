/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The spread: a row per configuration, a panel per measure, a point per repeat, the mean with its interval below the
 * points. */
#include "model_parts.h"

#include <math.h>

/* Where in its row, from the top, what goes. */
#define POINTS_TOP    0.14
#define POINTS_BOTTOM 0.60
#define MEAN_PLACE    0.80
#define ALONE         0.50

static void
add_rows (SbChartModel *model)
{
  for (guint c = 0; c < model->analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
    if (!configuration->drawn || configuration->n_used == 0)
      continue;
    SbRow row = { c, configuration->style, g_strdup (configuration->name), configuration->n_used };
    g_array_append_val (model->rows, row);
  }
}

/* The repeats that are shown and have the figure, in their order. */
static GArray *
take_points (const SbChartModel *model, const SbRow *row, SbMeasureId id)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, row->configuration);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    SbPoint point = { .configuration = row->configuration, .trial = t, .style = row->style };
    point.hollow = !trial->included;
    if (point.hollow && !model->analysis->bench->chart.excluded_repeats)
      continue;
    if (sb_chart_trial_value (trial, id, model->analysis->bench->units, &point.value))
      g_array_append_val (points, point);
  }
  return points;
}

static void
place_points (GArray *points, guint row, gboolean in_order)
{
  for (guint i = 0; i < points->len; i++) {
    double share = in_order ? (i + 0.5) / points->len : sb_chart_scatter (i);
    double place = POINTS_TOP + share * (POINTS_BOTTOM - POINTS_TOP);
    g_array_index (points, SbPoint, i).at = row + (points->len > 1 ? place : ALONE);
  }
}

/* Why the row is empty, or that some repeats have no such figure; "" when there is nothing to say. (transfer full) */
static char *
note_of (const SbConfigurationResult *configuration, SbMeasureId id)
{
  const SbMeasureSummary *summary = configuration->summary != NULL ? &configuration->summary->measure[id] : NULL;
  if (summary != NULL && !summary->present && summary->absent_reason != NULL)
    return g_strdup_printf ("no figure: %s", summary->absent_reason);
  if (summary != NULL && summary->n_absent > 0)
    return g_strdup_printf ("%" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT " repeats have it", summary->n,
                            summary->n + summary->n_absent);
  return g_strdup ("");
}

static void
fill_row (SbChartModel *model, SbChartPanel *panel, guint r)
{
  const SbRow *row = &g_array_index (model->rows, SbRow, r);
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, row->configuration);
  g_autoptr (GArray) points = take_points (model, row, panel->measure);
  place_points (points, r, model->analysis->bench->chart.in_order);
  g_array_append_vals (panel->points, points->data, points->len);
  SbMeanMark mark;
  gboolean has_mean = sb_chart_mean_mark (configuration, panel->measure, model->analysis->bench->units, &mark);
  if (has_mean && mark.n == 1)
    sb_chart_doubt_point (panel, row->configuration, &mark);
  if (has_mean && (mark.n > 1 || points->len == 0)) { /* the mean of one repeat is its point */
    mark.configuration = row->configuration;
    mark.at = r + (points->len > 0 ? MEAN_PLACE : ALONE);
    g_array_append_val (panel->means, mark);
  }
  g_ptr_array_add (panel->notes, note_of (configuration, panel->measure));
}

static gboolean
any_hollow (const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->points->len; i++)
      if (g_array_index (panel->points, SbPoint, i).hollow)
        return TRUE;
  }
  return FALSE;
}

static void
set_foot (SbChartModel *model)
{
  GString *foot = g_string_new ("Points: single repeats");
  if (model->analysis->bench->chart.in_order)
    g_string_append (foot, ", from top to bottom in their order");
  g_string_append (foot, any_hollow (model) ? "; hollow ones were left out and do not count. " : ". ");
  sb_chart_append_means (foot, model);
  sb_chart_append_stated (foot, model);
  sb_chart_append_source (foot, model);
  model->foot = g_string_free (foot, FALSE);
}

void
sb_chart_model_add_spread (SbChartModel *model)
{
  model->x_label = g_strdup ("");
  model->x_display_factor = 1;
  model->x_max = 1;
  add_rows (model);
  SbMeasureId measures[SB_N_MEASURES];
  gsize n = model->rows->len > 0 ? sb_chart_choices_measures (&model->analysis->bench->chart, measures) : 0;
  for (gsize i = 0; i < n; i++) {
    SbChartPanel *panel = sb_chart_model_add_measure_panel (model, measures[i]);
    for (guint r = 0; r < model->rows->len; r++)
      fill_row (model, panel, r);
    sb_chart_set_point_range (panel);
    sb_chart_add_stated (model, panel);
  }
  if (n > 0)
    set_foot (model);
  else
    model->foot = g_strdup ("");
}
