/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "analysis_plan.h"

#include "both_ways.h"
#include "judgements.h"
#include "repeat_remarks.h"

#include <math.h>

const SbConfigurationResult *
sb_analysis_planned_side (const SbAnalysis *analysis, int side)
{
  const SbBench *bench = analysis->bench;
  if (analysis->comparison != NULL)
    return sb_analysis_configuration (analysis, (guint) (side == 0 ? bench->reference : bench->other));
  for (guint c = 0; side == 0 && c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->summary != NULL)
      return configuration;
  }
  return NULL;
}

/* Scatter of single repeats beyond the mean makes a share of it nothing to plan for. */
static gboolean
is_nearly_nothing (const SbMeasureSummary *measure)
{
  return measure->n > 1 && !(fabs (measure->mean) > measure->sd);
}

static SbPlanSide
plan_side (const SbConfigurationResult *configuration, const GPtrArray *facts)
{
  return (SbPlanSide){ configuration->summary, (SbTrialFacts *const *) facts->pdata, facts->len,
                       sb_repeats_drifting (configuration), sb_both_ways_differing (configuration) };
}

SbPlan *
sb_analysis_plan_new (const SbAnalysis *analysis, guint measures)
{
  const SbBench *bench = analysis->bench;
  const SbConfigurationResult *reference = sb_analysis_planned_side (analysis, 0),
                              *other = sb_analysis_planned_side (analysis, 1);
  double difference[SB_N_MEASURES];
  SbMargin margin[SB_N_MEASURES];
  if (reference == NULL)
    return NULL;
  sb_bench_margins (bench, margin);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureSummary *measure = &reference->summary->measure[m];
    if (bench->plan_ratio > 0)
      margin[m] = (SbMargin){ bench->plan_ratio, NAN };
    gboolean of_mean = isnan (margin[m].absolute), wanted = measure->present && (measures & 1u << m) != 0;
    difference[m]
        = wanted && !(of_mean && is_nearly_nothing (measure)) ? sb_margin_size (&margin[m], measure->mean) : 0;
  }
  g_autoptr (GPtrArray) of_reference = sb_configuration_used_facts (reference);
  g_autoptr (GPtrArray) of_other = other != NULL ? sb_configuration_used_facts (other) : NULL;
  SbPlanSide sides[2] = { plan_side (reference, of_reference) };
  if (other != NULL)
    sides[1] = plan_side (other, of_other);
  return sb_plan_new (&sides[0], other != NULL ? &sides[1] : NULL, difference, bench->verdict_level);
}

const SbPlan *
sb_analysis_planned (const SbAnalysis *analysis, guint measures, SbPlan **made)
{
  *made = analysis->plan == NULL ? sb_analysis_plan_new (analysis, measures) : NULL;
  return analysis->plan != NULL ? analysis->plan : *made;
}
