/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan.h"

#include "comparable.h"
#include "comparison.h"
#include "crest_rule.h"
#include "doubt.h"
#include "noise_rule.h"
#include "power.h"
#include "sampling_rule.h"

#include <math.h>

/* What leaves a comparison undecided whatever the number of repeats, as comparison.c has it. */
static char *
why_repeats_do_not_help (const SbMeasureSummary *reference, const SbMeasureSummary *other, gboolean drifts,
                         gboolean of_two_ways)
{
  if (of_two_ways)
    return g_strdup ("its repeats that step up and those that step down differ: what lies between them is no scatter; "
                     "put one way into a configuration of its own");
  if (drifts)
    return g_strdup ("its repeats drift from the first to the last: they are no scatter about one value, and more of "
                     "them settle nothing while they do");
  if (sb_doubts_have (reference->doubts, SB_DOUBT_CUT_OFF) || sb_doubts_have (other->doubts, SB_DOUBT_CUT_OFF))
    return g_strdup ("the sensor looks to be at the end of its range, and what lies beyond it may differ: a sensor, or "
                     "an input, with a larger range would tell, not more repeats");
  if (sb_sides_are_in_noise (reference, other))
    return g_strdup ("in most repeats it does not stand above the noise, which is all that may differ: less noise "
                     "would tell, not more repeats");
  return NULL;
}

/* One configuration is planned against one with the same noise: nothing of a difference is noise's then, but where
 * noise chooses the crest. */
static double
made_by_noise (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  return fmax ((1 + SB_NOISE_KNOWN_TO) * fabs (other->bias - reference->bias), sb_by_crests (id, reference, other));
}

/* The end farther away, as the difference may point either way. */
static double
made_by_sampling (const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  double beyond[2];
  if (sb_late_onsets_average_out (reference, other))
    return 0;
  sb_by_late_onsets (reference, other, beyond);
  return fmax (-beyond[0], beyond[1]);
}

static char *
why_noise_hides_it (const SbMeasurePlan *plan, double by_crests)
{
  if (plan->difference > plan->by_noise)
    return NULL;
  return g_strdup_printf (
      "noise may make %.2g times the difference asked for%s: less noise would tell, not more repeats",
      plan->by_noise / plan->difference,
      by_crests < plan->by_noise ? "" : ", by the crests that it hides or lets be read");
}

static char *
why_sampling_hides_it (const SbMeasurePlan *plan)
{
  if (plan->difference > plan->by_noise + plan->by_sampling)
    return NULL;
  return g_strdup_printf ("sampling%s may make %.2g times the difference asked for, as the commands jump somewhere in "
                          "their sample intervals: a higher sample rate would tell, not more repeats",
                          plan->by_noise > 0 ? " and noise" : "",
                          (plan->by_noise + plan->by_sampling) / plan->difference);
}

double
sb_plan_detectable (const SbMeasurePlan *plan, double n, double level, double power)
{
  SbScatter scatter = { .sd = { plan->sd[0], plan->sd[1] }, .n = { n, n } };
  return plan->by_noise + plan->by_sampling + sb_t_detectable (&scatter, level, power);
}

static void
fill_curve (SbMeasurePlan *plan, double level)
{
  static const gsize numbers[SB_N_PLAN_POINTS] = { 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 50, 100 };
  for (gsize i = 0; i < SB_N_PLAN_POINTS; i++) {
    double n = (double) numbers[i];
    plan->curve[i] = (SbPlanPoint){ numbers[i], sb_plan_detectable (plan, n, level, 0.8),
                                    sb_plan_detectable (plan, n, level, 0.9) };
  }
}

static void
plan_measure (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other, gboolean drifts,
              gboolean of_two_ways, double level, SbMeasurePlan *plan)
{
  if (plan->absent_reason == NULL && !(plan->difference > 0))
    plan->absent_reason = g_strdup ("the mean of the reference is nearly 0 beside its scatter: a share of it is no "
                                    "difference; a margin in the unit of the measure would be");
  if (plan->absent_reason == NULL)
    plan->absent_reason = why_repeats_do_not_help (reference, other, drifts, of_two_ways);
  if (plan->absent_reason != NULL)
    return;
  SbScatter scatter = { .sd = { reference->sd, other->sd } };
  plan->mean = reference->mean;
  plan->sd[0] = reference->sd;
  plan->sd[1] = other->sd;
  plan->n[0] = reference->n;
  plan->n[1] = other->n;
  plan->by_noise = made_by_noise (id, reference, other);
  plan->by_sampling = made_by_sampling (reference, other);
  plan->absent_reason = why_noise_hides_it (plan, sb_by_crests (id, reference, other));
  if (plan->absent_reason == NULL)
    plan->absent_reason = why_sampling_hides_it (plan);
  plan->present = plan->absent_reason == NULL;
  if (!plan->present)
    return;
  double left = plan->difference - plan->by_noise - plan->by_sampling;
  plan->n_80 = sb_t_repeats (&scatter, left, level, 0.8);
  plan->n_90 = sb_t_repeats (&scatter, left, level, 0.9);
  fill_curve (plan, level);
}

SbPlan *
sb_plan_new (const SbPlanSide *reference, const SbPlanSide *other, const double difference[SB_N_MEASURES], double level)
{
  g_return_val_if_fail (reference != NULL && level > 0 && level < 1, NULL);
  SbPlan *plan = g_new0 (SbPlan, 1);
  plan->level = level;
  if (other == NULL)
    other = reference;
  gboolean alike_rates = sb_rates_are_alike (reference->facts, reference->n, other->facts, other->n);
  guint drifting = reference->drifting | other->drifting, of_two_ways = reference->of_two_ways | other->of_two_ways;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureSummary *of_reference = &reference->summary->measure[m], *of_other = &other->summary->measure[m];
    plan->measure[m].difference = difference[m];
    plan->measure[m].absent_reason = sb_why_not_comparable ((SbMeasureId) m, of_reference, of_other, alike_rates);
    plan_measure ((SbMeasureId) m, of_reference, of_other, (drifting & 1u << m) != 0, (of_two_ways & 1u << m) != 0,
                  level, &plan->measure[m]);
  }
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
