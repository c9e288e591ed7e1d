/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many repeats a comparison needs: what the scatter of the repeats made so far says of those to come. Definitions:
 * 'Repeats planner' of docs/methods.md. */
#pragma once

#include "measure_table.h"
#include "trial_facts.h"

/* Numbers of repeats that a curve is worked out for. */
#define SB_N_PLAN_POINTS 12

/* Repeats on either side, and the smallest differences seen with a power of 80 and 90 %. */
typedef struct {
  gsize n;
  double difference_80, difference_90; /* SI */
} SbPlanPoint;

typedef struct {
  gboolean present;
  double mean;        /* of the reference, SI */
  gsize n[2];         /* repeats so far, likewise */
  double sd[2];       /* of the reference and the other; the same twice with one configuration */
  double difference;  /* asked for, SI */
  double by_noise;    /* SI, 0 or more: what a verdict takes off a difference, since noise may have made it of these two
                       * sides: what it takes to see one is worked out for the rest of it */
  double by_sampling; /* SI, 0 or more: likewise, since the commands jumped somewhere in their sample intervals */
  gsize n_80, n_90;   /* repeats on either side that see it; 0: more than SB_MOST_REPEATS */
  SbPlanPoint curve[SB_N_PLAN_POINTS]; /* by rising n */
  char *absent_reason;                 /* NULL when present */
} SbMeasurePlan;

typedef struct {
  SbMeasurePlan measure[SB_N_MEASURES];
  double level;
} SbPlan;

/* All borrowed, for the call alone. */
typedef struct {
  const SbSummary *summary;
  SbTrialFacts *const *facts; /* of its trials, n of them */
  gsize n;
  guint drifting;    /* measures, as bits 1u << SbMeasureId, that drift over its repeats */
  guint of_two_ways; /* likewise, whose repeats that step up and down differ */
} SbPlanSide;

/* Of two-sided tests at `level` of one measure. `difference[id]` is the difference that is to be seen, SI; not above 0:
 * that measure is absent. `other` may be NULL: then it scatters as the reference does. Absent too is what a comparison
 * does not compare, or would leave undecided however many repeats there are: a measure whose repeats drift or are
 * others up than down, one in the noise or cut off by a sensor, and a difference that noise or sampling may make by
 * itself. (transfer full) */
SbPlan *sb_plan_new (const SbPlanSide *reference, const SbPlanSide *other, const double difference[SB_N_MEASURES],
                     double level);

/* The smallest difference that `n` repeats on either side see with this power, SI. */
double sb_plan_detectable (const SbMeasurePlan *plan, double n, double level, double power);
void sb_plan_free (SbPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPlan, sb_plan_free)
