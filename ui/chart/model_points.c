/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What spread and sweep share: figures of repeats, means, and the values they span. */
#include "model_parts.h"

#include "doubt.h"

#include <math.h>

#define AIR_RATIO 0.06

/* Zero is on the axis when the figures take up at least this share of the way from it. */
#define NEAR_ZERO 0.4

SbChartPanel *
sb_chart_model_add_measure_panel (SbChartModel *model, SbMeasureId id)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  const char *unit = sb_measure_shown_unit (id, model->analysis->bench->units).name;
  char *label = g_str_equal (unit, "1") ? g_strdup (info->name) : g_strdup_printf ("%s [%s]", info->name, unit);
  SbChartPanel *panel = sb_chart_model_add_panel (model, label);
  panel->measure = id;
  return panel;
}

gboolean
sb_chart_trial_value (const SbTrialResult *trial, SbMeasureId id, SbUnits units, double *value)
{
  if (trial->measures == NULL || !trial->measures->measure[id].present)
    return FALSE;
  *value = trial->measures->measure[id].value * sb_measure_shown_unit (id, units).factor;
  return TRUE;
}

gboolean
sb_chart_mean_mark (const SbConfigurationResult *configuration, SbMeasureId id, SbUnits units, SbMeanMark *mark)
{
  if (configuration->summary == NULL || !configuration->summary->measure[id].present)
    return FALSE;
  const SbMeasureSummary *summary = &configuration->summary->measure[id];
  double factor = sb_measure_shown_unit (id, units).factor;
  *mark = (SbMeanMark){
    .style = configuration->style,
    .mean = summary->mean * factor,
    .low = summary->n > 1 ? summary->ci95[0] * factor : (double) NAN,
    .high = summary->n > 1 ? summary->ci95[1] * factor : (double) NAN,
    .n = summary->n,
    .doubted = sb_doubts_count (summary->doubts) > 0,
  };
  return TRUE;
}

void
sb_chart_doubt_point (SbChartPanel *panel, guint configuration, const SbMeanMark *mark)
{
  for (guint i = 0; i < panel->points->len; i++) {
    SbPoint *point = &g_array_index (panel->points, SbPoint, i);
    if (point->configuration == configuration && !point->hollow)
      point->doubted = mark->doubted;
  }
}

/* Multiples of the golden ratio, less their whole part, fill an interval evenly however many there are. */
double
sb_chart_scatter (guint i)
{
  double multiple = (i + 0.5) * 0.6180339887498949;
  return multiple - floor (multiple);
}

typedef struct {
  double lowest, highest;
} Extent;

static void
extend (Extent *extent, double value)
{
  if (isnan (value))
    return;
  extent->lowest = fmin (extent->lowest, value);
  extent->highest = fmax (extent->highest, value);
}

void
sb_chart_set_point_range (SbChartPanel *panel)
{
  Extent extent = { HUGE_VAL, -HUGE_VAL };
  for (guint i = 0; i < panel->points->len; i++)
    extend (&extent, g_array_index (panel->points, SbPoint, i).value);
  for (guint i = 0; i < panel->means->len; i++) {
    const SbMeanMark *mark = &g_array_index (panel->means, SbMeanMark, i);
    extend (&extent, mark->mean);
    extend (&extent, mark->low);
    extend (&extent, mark->high);
  }
  if (!(extent.highest >= extent.lowest))
    extent = (Extent){ 0, 1 };
  if (panel->y_log) {
    double air = pow (extent.highest / extent.lowest, AIR_RATIO);
    panel->y_min = extent.lowest / fmax (air, 1.05);
    panel->y_max = extent.highest * fmax (air, 1.05);
    return;
  }
  double height = extent.highest - extent.lowest, farthest = fmax (fabs (extent.highest), fabs (extent.lowest));
  gboolean with_zero = height > NEAR_ZERO * farthest;
  double low = with_zero ? fmin (extent.lowest, 0) : extent.lowest;
  double high = with_zero ? fmax (extent.highest, 0) : extent.highest;
  double air = high - low > 1e-9 * farthest ? AIR_RATIO * (high - low) : farthest > 0 ? 0.1 * farthest : 1;
  panel->y_min = low - air;
  panel->y_max = high + air;
}
