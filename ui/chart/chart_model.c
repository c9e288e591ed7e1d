/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "model_parts.h"

#include <math.h>

/* Share of the span that is shown before the onset. */
#define LEAD_RATIO 0.05

/* Up to this time after the onset the axis counts in ms. */
#define LARGEST_MS_AXIS_S 1.0

static void
panel_free (gpointer data)
{
  SbChartPanel *panel = data;
  g_free (panel->label);
  g_array_unref (panel->bands);
  g_array_unref (panel->curves);
  g_array_unref (panel->marks);
  g_array_unref (panel->callouts);
  g_array_unref (panel->labels);
  g_free (panel->x.label);
  g_array_unref (panel->stretches);
  g_array_unref (panel->points);
  g_array_unref (panel->means);
  g_array_unref (panel->rules);
  g_ptr_array_unref (panel->notes);
  g_free (panel->caption);
  g_free (panel->brief);
  g_free (panel);
}

static void
rule_clear (gpointer data)
{
  g_free (((SbRule *) data)->label);
  g_free (((SbRule *) data)->brief);
}

static void
label_clear (gpointer data)
{
  g_free (((SbLabelMark *) data)->text);
}

SbChartPanel *
sb_chart_model_add_panel (SbChartModel *model, char *label)
{
  SbChartPanel *panel = g_new0 (SbChartPanel, 1);
  panel->label = label;
  panel->caption = g_strdup ("");
  panel->bands = g_array_new (FALSE, TRUE, sizeof (SbBandArea));
  panel->curves = g_array_new (FALSE, TRUE, sizeof (SbCurve));
  panel->marks = g_array_new (FALSE, TRUE, sizeof (SbMark));
  panel->callouts = g_array_new (FALSE, TRUE, sizeof (SbCalloutMark));
  panel->labels = g_array_new (FALSE, TRUE, sizeof (SbLabelMark));
  g_array_set_clear_func (panel->labels, label_clear);
  panel->stretches = g_array_new (FALSE, TRUE, sizeof (SbTimeStretch));
  panel->points = g_array_new (FALSE, TRUE, sizeof (SbPoint));
  panel->means = g_array_new (FALSE, TRUE, sizeof (SbMeanMark));
  panel->rules = g_array_new (FALSE, TRUE, sizeof (SbRule));
  g_array_set_clear_func (panel->rules, rule_clear);
  panel->notes = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (model->panels, panel);
  return panel;
}

static void
row_clear (gpointer data)
{
  g_free (((SbRow *) data)->name);
}

static void
legend_entry_clear (gpointer data)
{
  g_free (((SbLegendEntry *) data)->text);
}

double *
sb_chart_model_keep (SbChartModel *model, double *values)
{
  g_ptr_array_add (model->owned, values);
  return values;
}

gboolean
sb_chart_is_drawn (const SbAnalysis *analysis, guint index)
{
  const SbBench *bench = analysis->bench;
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, index);
  gboolean is_of_pair = bench->reference == (int) index || bench->other == (int) index;
  gboolean wanted = bench->chart.view == SB_VIEW_DIFFERENCE ? is_of_pair : configuration->drawn;
  return wanted && configuration->ensemble != NULL && configuration->ensemble->n_points > 0;
}

const SbTrialResult *
sb_chart_first_used_trial (const SbConfigurationResult *configuration)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (trial->included && trial->facts != NULL)
      return trial;
  }
  return NULL;
}

gboolean
sb_chart_has_moving_band (const SbChartModel *model, const SbConfigurationResult *configuration)
{
  const SbEnsemble *ensemble = configuration->ensemble;
  return model->analysis->bench->chart.moving_band && ensemble->n_trials == 1 && ensemble->kept != NULL
         && ensemble->kept->len == 1;
}

static double
latest_end_s (const SbAnalysis *analysis)
{
  double end_s = 0;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (!sb_chart_is_drawn (analysis, c))
      continue;
    const SbEnsemble *ensemble = configuration->ensemble;
    gint64 last = ensemble->first + (gint64) ensemble->n_points - 1;
    end_s = fmax (end_s, (double) last * ensemble->grid_step_s);
  }
  return end_s;
}

void
sb_chart_model_set_time_range (SbChartModel *model)
{
  const double *view_s = model->analysis->bench->chart.view_s;
  double end_s = latest_end_s (model->analysis);
  end_s = end_s > 0 ? end_s : 1;
  model->x_min = isfinite (view_s[0]) ? view_s[0] : -LEAD_RATIO * end_s;
  model->x_max = isfinite (view_s[1]) ? view_s[1] : end_s;
  if (!(model->x_max > model->x_min)) {
    model->x_min = -LEAD_RATIO * end_s;
    model->x_max = end_s;
  }
  gboolean in_ms = fmax (fabs (model->x_min), fabs (model->x_max)) <= LARGEST_MS_AXIS_S;
  model->x_display_factor = in_ms ? 1000 : 1;
  model->x_label = g_strdup (in_ms ? "Time after the step [ms]" : "Time after the step [s]");
}

static void
add_response (SbChartModel *model, int evidence)
{
  sb_chart_model_set_time_range (model);
  sb_chart_model_add_panels (model, evidence);
  if (model->view == SB_VIEW_SLOPE)
    sb_chart_model_add_slopes (model);
  if (model->view == SB_VIEW_DIFFERENCE)
    sb_chart_model_explain_no_difference (model);
  sb_chart_model_add_fits (model);
  sb_chart_model_add_marks (model, evidence);
  sb_chart_model_apply_units (model);
  sb_chart_model_add_callouts (model);
  sb_chart_model_add_labels (model);
  sb_chart_model_set_value_ranges (model);
  sb_chart_model_add_stated (model);
  sb_chart_model_settle_labels (model);
  sb_chart_model_add_blocks (model);
  sb_chart_model_add_legend (model);
  sb_chart_model_set_foot (model, evidence);
}

/* Nothing on it yet. */
static SbChartModel *
model_new (SbAnalysis *analysis, SbView view)
{
  SbChartModel *model = g_new0 (SbChartModel, 1);
  g_atomic_ref_count_init (&model->ref_count);
  model->analysis = sb_analysis_ref (analysis);
  model->evidence = -1;
  model->title = g_strdup (analysis->bench->chart.title != NULL ? analysis->bench->chart.title : "");
  model->panels = g_ptr_array_new_with_free_func (panel_free);
  model->legend = g_array_new (FALSE, TRUE, sizeof (SbLegendEntry));
  g_array_set_clear_func (model->legend, legend_entry_clear);
  model->owned = g_ptr_array_new_with_free_func (g_free);
  model->rows = g_array_new (FALSE, TRUE, sizeof (SbRow));
  g_array_set_clear_func (model->rows, row_clear);
  model->view = view;
  return model;
}

SbChartModel *
sb_chart_model_new_plan (SbAnalysis *analysis, guint measures)
{
  g_return_val_if_fail (analysis != NULL && measures != 0, NULL);
  SbChartModel *model = model_new (analysis, SB_VIEW_PLAN);
  sb_chart_model_add_plan (model, measures);
  return model;
}

SbChartModel *
sb_chart_model_new (SbAnalysis *analysis, int evidence)
{
  g_return_val_if_fail (analysis != NULL, NULL);
  g_return_val_if_fail (evidence < SB_N_MEASURES, NULL);
  const SbChartChoices *chart = &analysis->bench->chart;
  if (chart->view == SB_VIEW_PLAN)
    return sb_chart_model_new_plan (analysis, chart->measures);
  SbChartModel *model = model_new (analysis, chart->view);
  model->evidence = sb_view_is_over_time (model->view) ? evidence : -1;
  switch (model->view) {
  case SB_VIEW_SPREAD:
    sb_chart_model_add_spread (model);
    break;
  case SB_VIEW_SWEEP:
    sb_chart_model_add_sweep (model);
    break;
  case SB_VIEW_RINGING:
    sb_chart_model_add_ringing (model);
    break;
  case SB_VIEW_PHASE:
    sb_chart_model_add_phase (model);
    break;
  case SB_VIEW_DIFFERENCE:
  case SB_VIEW_SLOPE:
  case SB_VIEW_RESPONSE:
  case SB_VIEW_PLAN:
  case SB_N_VIEWS:
    add_response (model, evidence);
  }
  return model;
}

void
sb_chart_model_shorten (SbChartModel *model)
{
  g_free (model->title);
  model->title = g_strdup ("");
  g_free (model->foot);
  model->foot = g_strdup ("");
  for (guint p = 0; p < model->panels->len; p++) {
    SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    g_free (panel->caption);
    panel->caption = g_strdup ("");
    g_clear_pointer (&panel->brief, g_free);
  }
}

void
sb_chart_model_let_legend_give_way (SbChartModel *model)
{
  model->legend_gives_way = TRUE;
}

void
sb_chart_model_set_paper (SbChartModel *model, const SbPaper *paper)
{
  model->paper = *paper;
}

SbChartModel *
sb_chart_model_ref (SbChartModel *model)
{
  g_atomic_ref_count_inc (&model->ref_count);
  return model;
}

void
sb_chart_model_unref (SbChartModel *model)
{
  if (model == NULL || !g_atomic_ref_count_dec (&model->ref_count))
    return;
  g_free (model->title);
  g_free (model->x_label);
  g_free (model->foot);
  g_ptr_array_unref (model->panels);
  g_array_unref (model->legend);
  g_array_unref (model->rows);
  g_free (model->absent_reason);
  g_ptr_array_unref (model->owned);
  sb_analysis_unref (model->analysis);
  g_free (model);
}

gboolean
sb_chart_model_is_dimmed (const SbChartModel *model, guint configuration)
{
  const SbBench *bench = model->analysis->bench;
  return model->view != SB_VIEW_DIFFERENCE && configuration < bench->configurations->len
         && sb_bench_configuration (bench, configuration)->dimmed;
}

/* The last point at or before x_s; the curve covers x_s. */
static gsize
point_before (const SbCurve *curve, double x_s)
{
  gsize low = 0, high = curve->n_points - 1;
  while (high - low > 1) {
    gsize middle = low + (high - low) / 2;
    if (sb_curve_x (curve, middle) <= x_s)
      low = middle;
    else
      high = middle;
  }
  return low;
}

double
sb_chart_curve_value_at (const SbCurve *curve, double x_s)
{
  if (curve->n_points == 0 || isnan (x_s))
    return NAN;
  double first = sb_curve_x (curve, 0), last = sb_curve_x (curve, curve->n_points - 1);
  if (x_s < first || x_s > last)
    return NAN;
  if (curve->n_points == 1)
    return curve->y[0];
  gsize i = point_before (curve, x_s);
  double before = sb_curve_x (curve, i), after = sb_curve_x (curve, i + 1);
  double share = (x_s - before) / (after - before);
  /* At a point itself the neighbour does not count, which may be a break. */
  if (share <= 0)
    return curve->y[i];
  if (share >= 1)
    return curve->y[i + 1];
  return curve->y[i] + share * (curve->y[i + 1] - curve->y[i]);
}

double
sb_chart_model_value_at (const SbChartModel *model, gsize panel, guint configuration, double x_s)
{
  if (panel >= model->panels->len)
    return NAN;
  const SbChartPanel *drawn = g_ptr_array_index (model->panels, panel);
  if (drawn->is_path)
    return NAN;
  for (guint i = 0; i < drawn->curves->len; i++) {
    const SbCurve *curve = &g_array_index (drawn->curves, SbCurve, i);
    if (!curve->thin && curve->configuration == configuration)
      return sb_chart_curve_value_at (curve, x_s);
  }
  return NAN;
}
