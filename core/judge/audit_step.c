/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A limit's rise takes longer for a larger step; that of a moving mean over a fixed time, or of a filter, does not. */
#include "audit_parts.h"
#include "audit_words.h"

#include "steady_math.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>

/* Steps that are less apart tell nothing. */
#define APART_RATIO 1.2

/* Logarithms of the durations of the rises, and the mean step. */
typedef struct {
  double mean, sd, step_nm;
  gsize n;
} Rises;

static Rises
rises_of (SbMeasures *const *measures, gsize n)
{
  Rises rises = { 0 };
  g_autofree double *logs = g_new (double, n + 1);
  double steps = 0;
  for (gsize i = 0; i < n; i++) {
    const SbMeasure *duration = &measures[i]->measure[SB_MEASURE_TORQUE_TRANSITION_TIME];
    if (!duration->present || !(duration->value > 0))
      continue;
    logs[rises.n++] = sb_log (duration->value);
    steps += measures[i]->transition.top_nm - measures[i]->transition.base_nm;
  }
  if (rises.n < 2)
    return rises;
  rises.mean = gsl_stats_mean (logs, 1, rises.n);
  rises.sd = gsl_stats_sd (logs, 1, rises.n);
  rises.step_nm = steps / (double) rises.n;
  return rises;
}

static gboolean
is_within (const SbAuditWork *work, const SbWelch *welch, double expected)
{
  double least = 1 - work->choices.proportion_ratio, most = 1 / least;
  return sb_exp (welch->ci95[0]) / expected >= least && sb_exp (welch->ci95[1]) / expected <= most;
}

static SbStepSays
level_says (SbAuditWork *work, gsize index)
{
  const SbAuditInput *level = work->level[index];
  Rises own = rises_of (level->measures, level->n), other = rises_of (level->other_step, level->n_other_step);
  SbWelch welch;
  if (own.n < 2 || other.n < 2 || !(own.step_nm > 0 && other.step_nm > 0))
    return SB_STEP_ONE_SIZE;
  double steps = other.step_nm / own.step_nm;
  if (fmax (steps, 1 / steps) < APART_RATIO)
    return SB_STEP_ONE_SIZE;
  if (!sb_welch (own.mean, own.sd, own.n, other.mean, other.sd, other.n, &welch))
    return SB_STEP_UNCLEAR;
  SbStepSays says = is_within (work, &welch, 1)       ? SB_STEP_DURATION_STAYS
                    : is_within (work, &welch, steps) ? SB_STEP_SLOPE_STAYS
                                                      : SB_STEP_UNCLEAR;
  const double ci95[2] = { sb_exp (welch.ci95[0]), sb_exp (welch.ci95[1]) };
  g_autofree char *ratio = sb_audit_interval (sb_exp (welch.difference), ci95, 1, "");
  g_autofree char *step = sb_number_format (steps, NAN);
  sb_audit_add_reason (work->audit, "At %s a step %s times as large takes %s times as long to rise%s.", level->text,
                       step, ratio,
                       says == SB_STEP_DURATION_STAYS ? ": the duration is kept, not the slope"
                       : says == SB_STEP_SLOPE_STAYS  ? ": the slope is kept, as by a limit"
                                                      : "");
  return says;
}

SbStepSays
sb_audit_compare_steps (SbAuditWork *work)
{
  gsize n[SB_N_STEP_SAYS] = { 0 };
  for (gsize i = 0; i < work->n_levels; i++)
    n[level_says (work, i)]++;
  if (n[SB_STEP_DURATION_STAYS] > 0 && n[SB_STEP_SLOPE_STAYS] == 0)
    return SB_STEP_DURATION_STAYS;
  if (n[SB_STEP_SLOPE_STAYS] > 0 && n[SB_STEP_DURATION_STAYS] == 0)
    return SB_STEP_SLOPE_STAYS;
  return n[SB_STEP_ONE_SIZE] == work->n_levels ? SB_STEP_ONE_SIZE : SB_STEP_UNCLEAR;
}
