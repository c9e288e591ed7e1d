/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan.h"

#include "power.h"

#include <math.h>

static char *
why_not (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other, double difference)
{
  if (sb_measure_info (id)->of_configuration)
    return g_strdup ("it is one figure for each configuration: it has no scatter to plan with");
  if (!reference->present || !other->present)
    return g_strdup_printf ("%s has no such figure", reference->present ? "the other configuration" : "the reference");
  if (reference->n < 2 || other->n < 2)
    return g_strdup ("needs two repeats on either side to know the scatter");
  if (!(reference->sd + other->sd > 0))
    return g_strdup ("every repeat gives the very same figure: there is no scatter to plan with");
  if (!(difference > 0))
    return g_strdup ("the mean of the reference is nearly 0 beside its scatter: a share of it is no difference; a "
                     "margin in the unit "
                     "of the measure would be");
  return NULL;
}

static void
fill_curve (SbMeasurePlan *plan, double level)
{
  static const gsize numbers[SB_N_PLAN_POINTS] = { 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 50, 100 };
  for (gsize i = 0; i < SB_N_PLAN_POINTS; i++) {
    double n = (double) numbers[i];
    SbScatter scatter = { .sd = { plan->sd[0], plan->sd[1] }, .n = { n, n } };
    plan->curve[i]
        = (SbPlanPoint){ numbers[i], sb_t_detectable (&scatter, level, 0.8), sb_t_detectable (&scatter, level, 0.9) };
  }
}

static void
plan_measure (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other, double difference,
              double level, SbMeasurePlan *plan)
{
  plan->absent_reason = why_not (id, reference, other, difference);
  plan->present = plan->absent_reason == NULL;
  if (!plan->present)
    return;
  SbScatter scatter = { .sd = { reference->sd, other->sd } };
  plan->mean = reference->mean;
  plan->sd[0] = reference->sd;
  plan->sd[1] = other->sd;
  plan->n[0] = reference->n;
  plan->n[1] = other->n;
  plan->difference = difference;
  plan->n_80 = sb_t_repeats (&scatter, difference, level, 0.8);
  plan->n_90 = sb_t_repeats (&scatter, difference, level, 0.9);
  fill_curve (plan, level);
}

SbPlan *
sb_plan_new (const SbSummary *reference, const SbSummary *other, const double difference[SB_N_MEASURES], double level)
{
  g_return_val_if_fail (reference != NULL && level > 0 && level < 1, NULL);
  SbPlan *plan = g_new0 (SbPlan, 1);
  plan->level = level;
  for (int m = 0; m < SB_N_MEASURES; m++)
    plan_measure ((SbMeasureId) m, &reference->measure[m], other != NULL ? &other->measure[m] : &reference->measure[m],
                  difference[m], level, &plan->measure[m]);
  return plan;
}

void
sb_plan_free (SbPlan *plan)
{
  if (plan == NULL)
    return;
  for (int m = 0; m < SB_N_MEASURES; m++)
    g_free (plan->measure[m].absent_reason);
  g_free (plan);
}
