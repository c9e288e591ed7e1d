/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of spread and sweep. */
#include "model_parts.h"

#include "doubt.h"

#include <math.h>

const char *
sb_shape_name (guint series)
{
  static const char *const names[SB_N_SHAPES] = { "circles", "squares", "triangles", "diamonds", "crosses" };
  return names[series % SB_N_SHAPES];
}

const char *
sb_shape_sign (guint series)
{
  static const char *const signs[SB_N_SHAPES] = { "●", "■", "▲", "◆", "✖" };
  return signs[series % SB_N_SHAPES];
}

static gboolean
has_slopes (const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++)
    if (((SbChartPanel *) g_ptr_array_index (model->panels, p))->measure == SB_MEASURE_PEAK_TORQUE_SLOPE)
      return TRUE;
  return FALSE;
}

/* The sizes of the samples that intervals are drawn of: smallest and largest. FALSE when there is no interval. */
static gboolean
interval_counts (const SbChartModel *model, gsize *least, gsize *most)
{
  *least = G_MAXSIZE;
  *most = 0;
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->means->len; i++) {
      const SbMeanMark *mark = &g_array_index (panel->means, SbMeanMark, i);
      if (isnan (mark->low))
        continue;
      *least = MIN (*least, mark->n);
      *most = MAX (*most, mark->n);
    }
  }
  return *most > 0;
}

static gboolean
has_lone_repeat (const SbChartModel *model)
{
  for (guint c = 0; c < model->analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
    if (configuration->drawn && configuration->n_used == 1)
      return TRUE;
  }
  return FALSE;
}

/* Each topic once, of the figures that are shown with a question mark. */
static void
add_topics (GPtrArray *topics, const SbAnalysis *analysis, guint configuration, SbMeasureId id)
{
  const GPtrArray *doubts = sb_analysis_configuration (analysis, configuration)->summary->measure[id].doubts;
  for (guint i = 0; i < sb_doubts_count (doubts); i++) {
    char *topic = sb_doubts_get (doubts, i)->topic;
    if (!g_ptr_array_find_with_equal_func (topics, topic, g_str_equal, NULL))
      g_ptr_array_add (topics, topic);
  }
}

static void
append_doubts (GString *foot, const SbChartModel *model)
{
  g_autoptr (GPtrArray) topics = g_ptr_array_new ();
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->means->len; i++)
      add_topics (topics, model->analysis, g_array_index (panel->means, SbMeanMark, i).configuration, panel->measure);
    for (guint i = 0; i < panel->points->len; i++) {
      const SbPoint *point = &g_array_index (panel->points, SbPoint, i);
      if (point->doubted)
        add_topics (topics, model->analysis, point->configuration, panel->measure);
    }
  }
  for (guint i = 0; i < topics->len; i++)
    g_string_append_printf (foot, "%s%s%s", i == 0 ? "? in doubt: " : ", ",
                            (const char *) g_ptr_array_index (topics, i), i + 1 == topics->len ? ". " : "");
}

void
sb_chart_append_means (GString *foot, const SbChartModel *model)
{
  gsize least, most;
  if (interval_counts (model, &least, &most)) {
    g_string_append_printf (
        foot, "Large mark and bar: mean and its 95 %% interval after Student, n\u00a0=\u00a0%" G_GSIZE_FORMAT, least);
    if (most > least)
      g_string_append_printf (foot, " to %" G_GSIZE_FORMAT, most);
    g_string_append (foot, ". ");
  }
  if (has_lone_repeat (model))
    g_string_append (foot, "A single repeat has no interval. ");
  if (has_slopes (model))
    sb_chart_append_slope_window (foot, model->analysis->bench);
  append_doubts (foot, model);
}

static void
append_mean_words (GString *text, const SbChartModel *model, const SbChartPanel *panel, const SbMeanMark *mark)
{
  double uncertainty = sb_interval_rounding ((double[]){ mark->low, mark->high });
  g_autofree char *mean = sb_number_format (mark->mean, uncertainty);
  g_string_append_printf (text, " %s %s%s", sb_analysis_configuration (model->analysis, mark->configuration)->name,
                          mean, mark->doubted ? " ?" : "");
  if (isnan (mark->low))
    return;
  g_autofree char *low = sb_number_format (mark->low, uncertainty);
  g_autofree char *high = sb_number_format (mark->high, uncertainty);
  g_string_append_printf (text, " (95 %% %s to %s, n = %" G_GSIZE_FORMAT ")", low, high, mark->n);
}

void
sb_chart_append_point_words (GString *text, const SbChartModel *model)
{
  if (model->view == SB_VIEW_SWEEP || model->view == SB_VIEW_PLAN)
    g_string_append_printf (text, "%s. %s. ", sb_view_name (model->view), model->x_label);
  else
    g_string_append_printf (text, "Spread of %u configuration%s. ", model->rows->len, model->rows->len == 1 ? "" : "s");
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    if (model->view != SB_VIEW_PLAN)
      g_string_append_printf (text, "%s: %u point%s;", panel->label, panel->points->len,
                              panel->points->len == 1 ? "" : "s");
    for (guint i = 0; i < panel->means->len; i++) {
      g_string_append (text, i > 0 ? "," : " mean of");
      append_mean_words (text, model, panel, &g_array_index (panel->means, SbMeanMark, i));
    }
    g_string_append_printf (text, "%s%s%s", model->view != SB_VIEW_PLAN ? ". " : "", panel->caption,
                            panel->caption[0] != '\0' ? ". " : "");
  }
  for (guint i = 0; i < model->legend->len; i++) {
    const SbLegendEntry *entry = &g_array_index (model->legend, SbLegendEntry, i);
    const char *look = entry->series < 0 ? sb_style_get (entry->style)->name : sb_shape_name ((guint) entry->series);
    g_string_append_printf (text, "%s: %s. ", entry->text, look);
  }
  g_string_append (text, model->foot);
}
