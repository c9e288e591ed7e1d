/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Panels: which there are, their curves and bands, and the values they span. */
#include "model_parts.h"

#include "moving_band.h"

#include <math.h>

/* Air above and below what is drawn, as a share of its height. */
#define AIR_RATIO     0.06
#define NUMBERS_RATIO 0.2
#define LABELS_RATIO  0.28

/* What the curves of one configuration in one panel share. */
typedef struct {
  SbChartModel *model;
  SbChartPanel *panel;
  guint index;
  const SbConfigurationResult *configuration;
  const SbEnsemble *ensemble;
  SbChannel channel;
} Source;

static SbChartPanel *
panel_new (SbChartModel *model, SbPanel which)
{
  SbChannel channel = sb_panel_channel (which);
  const char *unit = sb_channel_shown_unit (channel, model->analysis->bench->units).name;
  char *label = g_strdup_printf ("%s [%s]", sb_channel_name (channel), unit);
  SbChartPanel *panel = sb_chart_model_add_panel (model, label);
  panel->panel = which;
  return panel;
}

static SbCurve
curve_on_grid (const Source *source, const double *y, gboolean thin)
{
  return (SbCurve){
    .configuration = source->index,
    .style = source->configuration->style,
    .n_points = source->ensemble->n_points,
    .x0 = (double) source->ensemble->first * source->ensemble->grid_step_s,
    .dx = source->ensemble->grid_step_s,
    .y = y,
    .thin = thin,
  };
}

static void
add_trial_line (const Source *source, const SbTrial *trial)
{
  double *y = sb_chart_model_keep (source->model, g_new (double, source->ensemble->n_points));
  sb_ensemble_resample (source->ensemble, trial, source->channel, y);
  SbCurve curve = curve_on_grid (source, y, TRUE);
  g_array_append_val (source->panel->curves, curve);
}

/* All on request; the one whose evidence is marked in any case, so that the marks lie on what they were taken from. */
static void
add_trial_lines (const Source *source, gboolean marked)
{
  const GPtrArray *kept = source->ensemble->kept;
  if (kept == NULL || source->ensemble->n_trials < 2)
    return;
  guint n = source->model->analysis->bench->chart.trial_lines ? kept->len : marked ? 1 : 0;
  for (guint t = 0; t < n; t++)
    add_trial_line (source, g_ptr_array_index (kept, t));
}

static void
add_repeat_band (const Source *source)
{
  const SbBench *bench = source->model->analysis->bench;
  gsize n = source->ensemble->n_points;
  g_autofree double *lower = g_new (double, n);
  g_autofree double *upper = g_new (double, n);
  if (!sb_ensemble_band (source->ensemble, source->channel, bench->band, bench->band_k, lower, upper))
    return;
  SbBandArea area = {
    .configuration = source->index,
    .style = source->configuration->style,
    .n_points = n,
    .x0 = (double) source->ensemble->first * source->ensemble->grid_step_s,
    .dx = source->ensemble->grid_step_s,
    .lower = sb_chart_model_keep (source->model, g_steal_pointer (&lower)),
    .upper = sb_chart_model_keep (source->model, g_steal_pointer (&upper)),
  };
  g_array_append_val (source->panel->bands, area);
}

/* The single-log view: moving mean between moving mean ± s, and the log itself as a thin line, because the moving mean
 * rounds off the step. */
static void
add_moving_view (const Source *source)
{
  const SbTrial *trial = g_ptr_array_index (source->ensemble->kept, 0);
  const double *signal = trial->signal[source->channel];
  if (signal == NULL)
    return;
  SbChartModel *model = source->model;
  gsize n = trial->n_samples;
  double *x = sb_chart_model_keep (model, g_new (double, n));
  double *mean = sb_chart_model_keep (model, g_new (double, n));
  double *lower = sb_chart_model_keep (model, g_new (double, n));
  double *upper = sb_chart_model_keep (model, g_new (double, n));
  sb_moving_band (trial->time_s, signal, n, model->analysis->bench->moving_window_s, mean, upper);
  for (gsize i = 0; i < n; i++) {
    double sd = upper[i];
    x[i] = trial->time_s[i] - trial->onset_s;
    lower[i] = mean[i] - sd;
    upper[i] = mean[i] + sd;
  }
  guint style = source->configuration->style;
  SbBandArea area
      = { .configuration = source->index, .style = style, .n_points = n, .x = x, .lower = lower, .upper = upper };
  SbCurve own = { .configuration = source->index, .style = style, .n_points = n, .x = x, .y = signal, .thin = TRUE };
  SbCurve moving = { .configuration = source->index, .style = style, .n_points = n, .x = x, .y = mean };
  g_array_append_val (source->panel->bands, area);
  g_array_append_val (source->panel->curves, own);
  g_array_append_val (source->panel->curves, moving);
}

static gboolean
is_marked (const Source *source, int evidence)
{
  const SbTrialResult *trial = sb_chart_first_used_trial (source->configuration);
  return evidence >= 0 && trial != NULL && trial->measures != NULL
         && sb_measures_channel (trial->measures, (SbMeasureId) evidence) == source->channel;
}

static void
add_curves (const Source *source, int evidence)
{
  const SbMeanCurve *curve = source->ensemble->curve[source->channel];
  if (curve == NULL)
    return;
  if (sb_chart_has_moving_band (source->model, source->configuration)) {
    add_moving_view (source);
    return;
  }
  add_repeat_band (source);
  add_trial_lines (source, is_marked (source, evidence));
  SbCurve mean = curve_on_grid (source, curve->mean, FALSE);
  g_array_append_val (source->panel->curves, mean);
}

static int
by_thinness (gconstpointer a, gconstpointer b)
{
  const SbCurve *first = a, *second = b;
  if (first->thin != second->thin)
    return first->thin ? -1 : 1;
  return first->configuration < second->configuration ? -1 : first->configuration > second->configuration;
}

static void
add_response (SbChartModel *model, SbPanel which, int evidence)
{
  const SbAnalysis *analysis = model->analysis;
  SbChartPanel *panel = panel_new (model, which);
  SbChannel channel = sb_panel_channel (which);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (!sb_chart_is_drawn (analysis, c))
      continue;
    Source source = { model, panel, c, configuration, configuration->ensemble, channel };
    add_curves (&source, evidence);
  }
  g_array_sort (panel->curves, by_thinness);
  if (panel->curves->len == 0)
    g_ptr_array_remove_index (model->panels, model->panels->len - 1);
}

void
sb_chart_model_add_panels (SbChartModel *model, int evidence)
{
  const SbBench *bench = model->analysis->bench;
  gboolean is_difference = model->view == SB_VIEW_DIFFERENCE;
  SbPanel asked[SB_N_PANELS];
  gsize n = sb_bench_panels (bench, asked);
  if (model->view == SB_VIEW_SLOPE) {
    asked[0] = SB_PANEL_TORQUE;
    n = 1;
  }
  for (gsize p = 0; p < n; p++) {
    if (!is_difference || !bench->chart.difference_only)
      add_response (model, asked[p], evidence);
    if (is_difference)
      sb_chart_model_add_difference (model, asked[p]);
  }
}

typedef struct {
  double lowest, highest;
} Extent;

/* The points of a curve or a band edge within the time range, or all of them; where it has fewer than two, also those
 * beside it, whose line leads through. */
static void
extend (Extent *extent, const SbChartModel *model, const SbCurve *curve, gboolean anywhere)
{
  gsize n = curve->n_points, first = 0, end = n;
  while (!anywhere && first < n && sb_curve_x (curve, first) < model->x_min)
    first++;
  while (!anywhere && end > first && sb_curve_x (curve, end - 1) > model->x_max)
    end--;
  if (end - first < 2) {
    first = first > 0 ? first - 1 : 0;
    end = end < n ? end + 1 : n;
  }
  double lowest = extent->lowest, highest = extent->highest;
  for (gsize i = first; i < end; i++) {
    lowest = curve->y[i] < lowest ? curve->y[i] : lowest;
    highest = curve->y[i] > highest ? curve->y[i] : highest;
  }
  extent->lowest = lowest;
  extent->highest = highest;
}

static void
extend_by_band (Extent *extent, const SbChartModel *model, const SbBandArea *band)
{
  SbCurve edge = { .n_points = band->n_points, .x = band->x, .x0 = band->x0, .dx = band->dx, .y = band->lower };
  extend (extent, model, &edge, FALSE);
  edge.y = band->upper;
  extend (extent, model, &edge, FALSE);
}

/* One that is in view. */
static gboolean
has_label (const SbChartModel *model, const SbChartPanel *panel)
{
  for (guint i = 0; i < panel->labels->len; i++) {
    const SbLabelMark *label = &g_array_index (panel->labels, SbLabelMark, i);
    if (!isnan (label->y) && (panel->x.label != NULL || (label->x >= model->x_min && label->x <= model->x_max)))
      return TRUE;
  }
  return FALSE;
}

void
sb_chart_set_value_range (const SbChartModel *model, SbChartPanel *panel)
{
  Extent extent = { HUGE_VAL, -HUGE_VAL };
  for (guint i = 0; i < panel->curves->len; i++)
    extend (&extent, model, &g_array_index (panel->curves, SbCurve, i), panel->x.label != NULL);
  for (guint i = 0; i < panel->bands->len; i++)
    extend_by_band (&extent, model, &g_array_index (panel->bands, SbBandArea, i));
  for (guint i = 0; i < panel->marks->len; i++) {
    const SbMark *mark = &g_array_index (panel->marks, SbMark, i);
    gboolean in_range = panel->x.label != NULL || mark->kind == SB_EVIDENCE_LEVEL
                        || (mark->x >= model->x_min && mark->x <= model->x_max);
    if (in_range && mark->y < extent.lowest)
      extent.lowest = mark->y;
    if (in_range && mark->y > extent.highest)
      extent.highest = mark->y;
  }
  if (panel->difference) {
    extent.lowest = fmin (extent.lowest, 0);
    extent.highest = fmax (extent.highest, 0);
    /* The numbers of stretches stand there. */
    extent.highest += NUMBERS_RATIO * (extent.highest - extent.lowest);
  }
  /* Labels of peaks stand above them. */
  if (has_label (model, panel))
    extent.highest += LABELS_RATIO * (extent.highest - extent.lowest);
  if (!isfinite (extent.lowest) || !isfinite (extent.highest))
    extent = (Extent){ 0, 1 };
  double height = extent.highest - extent.lowest;
  double scale = fmax (fabs (extent.highest), fabs (extent.lowest));
  /* A constant, up to rounding, gets a range around it. */
  double air = height > 1e-9 * scale ? AIR_RATIO * height : scale > 0 ? 0.1 * scale : 1;
  panel->y_min = extent.lowest - air;
  panel->y_max = extent.highest + air;
}

void
sb_chart_model_set_value_ranges (SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++)
    sb_chart_set_value_range (model, g_ptr_array_index (model->panels, p));
}
