/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict of an audit, argued step by step; each step leaves a reason with its figures. */
#include "audit_proportion.h"
#include "audit_stays.h"
#include "audit_words.h"

#include <math.h>
#include <string.h>

/* A peak slope within so many noise floors tells nothing. */
#define CLEAR_FLOORS 3

static gboolean
moves_beside_slope (const SbAuditWork *work, SbMeasureId id)
{
  return sb_audit_effect (work, id) == SB_EFFECT_MOVES && !sb_audit_is_slope (id);
}

static void
tell_noise (SbAuditWork *work)
{
  g_autofree char *names = sb_audit_list_measures (work, sb_audit_is_for_the_noise);
  if (names != NULL)
    sb_audit_add_reason (work->audit,
                         "Noise may account for what is seen of these: %s. Less noise would tell, not more repeats.",
                         names);
}

static gboolean
is_judged_and_drifts (const SbAuditWork *work, SbMeasureId id)
{
  return sb_audit_effect (work, id) != SB_EFFECT_ABSENT && sb_audit_drifts (work, id);
}

static void
tell_drift (SbAuditWork *work)
{
  g_autofree char *names = sb_audit_list_measures (work, is_judged_and_drifts);
  if (names != NULL)
    sb_audit_add_reason (work->audit,
                         "These drift from the first repeat of some level to the last, and hang on when the repeats "
                         "were made: %s.",
                         names);
}

/* Steepest slopes of noise alone are alike at every level. */
static gboolean
peak_is_clear (const SbAuditWork *work)
{
  for (gsize i = 0; i < work->n_levels; i++)
    for (gsize k = 0; k < work->level[i]->n; k++) {
      const SbMeasure *peak = &work->level[i]->measures[k]->measure[SB_MEASURE_PEAK_TORQUE_SLOPE];
      if (peak->present && peak->uncertainty > 0 && peak->value <= CLEAR_FLOORS * peak->uncertainty)
        return FALSE;
    }
  return TRUE;
}

/* A limit lowers the steepest stretch and the mean: where one of the two stays, nothing limits the slope. */
static SbAuditEffect
slope_effect (const SbAuditWork *work)
{
  SbAuditEffect mean = sb_audit_effect (work, SB_MEASURE_MEAN_TORQUE_SLOPE);
  SbAuditEffect peak = peak_is_clear (work) ? sb_audit_effect (work, SB_MEASURE_PEAK_TORQUE_SLOPE) : SB_EFFECT_ABSENT;
  if (mean == SB_EFFECT_STEADY || peak == SB_EFFECT_STEADY)
    return SB_EFFECT_STEADY;
  return mean;
}

static gboolean
same_way (const SbAuditWork *work, SbMeasureId a, SbMeasureId b)
{
  return sb_audit_measure (work, a)->change.difference * sb_audit_measure (work, b)->change.difference > 0;
}

/* FALSE when the slope moves because the step does. */
static gboolean
rise_takes_another_time (SbAuditWork *work)
{
  sb_audit_tell_measure (work, SB_MEASURE_TORQUE_TRANSITION_TIME);
  if (sb_audit_effect (work, SB_MEASURE_TORQUE_TRANSITION_TIME) == SB_EFFECT_MOVES
      && !same_way (work, SB_MEASURE_TORQUE_TRANSITION_TIME, SB_MEASURE_MEAN_TORQUE_SLOPE))
    return TRUE;
  if (sb_audit_effect (work, SB_MEASURE_PEAK_TORQUE) == SB_EFFECT_MOVES) {
    sb_audit_tell_measure (work, SB_MEASURE_PEAK_TORQUE);
    sb_audit_add_reason (work->audit, "The slope moves with the torque that is reached, as when the setting scales the "
                                      "torque: audit it at one torque.");
  } else {
    sb_audit_add_reason (work->audit, "A limited rise takes longer the less steep it is; this one is not seen to.");
  }
  return FALSE;
}

/* FALSE when the velocity goes the other way. */
static gboolean
velocity_agrees (SbAuditWork *work)
{
  SbAuditEffect velocity = sb_audit_effect (work, SB_MEASURE_MEAN_VELOCITY);
  gboolean same = same_way (work, SB_MEASURE_MEAN_VELOCITY, SB_MEASURE_MEAN_TORQUE_SLOPE);
  if (velocity == SB_EFFECT_ABSENT)
    return TRUE;
  sb_audit_tell_measure (work, SB_MEASURE_MEAN_VELOCITY);
  if (velocity == SB_EFFECT_MOVES && !same) {
    sb_audit_add_reason (work->audit, "The velocity goes the other way: something else moves with the setting.");
    return FALSE;
  }
  if (velocity != SB_EFFECT_MOVES)
    sb_audit_add_reason (work->audit, "A long test can hide what the slope does to the velocity.");
  return TRUE;
}

static gsize
least_steep_level (const SbAuditWork *work)
{
  const SbAuditPoint *points = sb_audit_measure (work, SB_MEASURE_MEAN_TORQUE_SLOPE)->points;
  gsize least = 0;
  for (gsize i = 1; i < work->n_levels; i++)
    if (points[i].mean < points[least].mean)
      least = i;
  return least;
}

/* The rise at the level that should limit most. */
static SbRiseKind
judge_rise (SbAuditWork *work, gsize level)
{
  SbRise rise = sb_audit_rise (work->level[level], work->choices.straight_ratio);
  const char *text = sb_audit_level (work->audit, (guint) level)->text;
  if (isnan (rise.half_width)) {
    sb_audit_add_reason (work->audit, "At %s the rise is too short for its shape to be told.", text);
    return rise.kind;
  }
  g_autoptr (GString) quarters = g_string_new (NULL);
  for (int q = 0; q < SB_RISE_QUARTERS; q++) {
    g_autofree char *ratio = sb_number_format (rise.quarter[q], rise.half_width);
    g_string_append_printf (quarters, "%s%s", q == 0 ? "" : q + 1 < SB_RISE_QUARTERS ? ", " : " and ", ratio);
  }
  g_autofree char *half_width = sb_number_format (rise.half_width, rise.half_width);
  static const char *const says[] = {
    [SB_RISE_UNCLEAR] = "that decides between a straight rise and a rounded one in neither way",
    [SB_RISE_STRAIGHT] = "the rise is straight, as a limit leaves it",
    [SB_RISE_ROUNDED] = "the rise is rounded or in waves, where a limit leaves it straight",
  };
  sb_audit_add_reason (work->audit, "At %s the quarters of the rise are %s times as steep as its mean (each ± %s): %s.",
                       text, quarters->str, half_width, says[rise.kind]);
  return rise.kind == SB_RISE_STRAIGHT ? rise.kind : sb_audit_rise_before_rig (work, level, &rise);
}

/* By the drive model each level's rise is at a slope limit of its own. */
static gboolean
model_says_limit (SbAuditWork *work)
{
  for (gsize i = 0; i < work->n_levels; i++) {
    const SbDriveModel *drive = work->level[i]->drive;
    if (drive == NULL || !drive->present || !drive->form.slope || !drive->parameter[SB_DRIVE_SLOPE_LIMIT].identified)
      return FALSE;
  }
  return TRUE;
}

static void
tell_models (SbAuditWork *work)
{
  for (gsize i = 0; i < work->n_levels; i++) {
    const SbDriveModel *drive = work->level[i]->drive;
    if (drive == NULL || !drive->present)
      continue;
    g_autofree char *limits = sb_drive_model_limits_text (drive);
    if (limits[0] != '\0')
      sb_audit_add_reason (work->audit, "By the drive model at %s: %s.", work->level[i]->text, limits);
  }
}

static gboolean
rises_throughout (const SbAuditWork *work)
{
  const SbAuditMeasure *slope = sb_audit_measure (work, SB_MEASURE_MEAN_TORQUE_SLOPE);
  return work->n_levels < 3 || (slope->has_jonckheere && slope->jonckheere.p < 0.05);
}

static SbAuditVerdict
judge_shape (SbAuditWork *work, SbRiseKind rise)
{
  SbAudit *audit = work->audit;
  gboolean inverse = sb_audit_measure (work, SB_MEASURE_MEAN_TORQUE_SLOPE)->change.difference < 0;
  gboolean numbers = sb_audit_find_proportion (work, inverse);
  sb_audit_tell_stated (work);
  gboolean model = model_says_limit (work);
  if (rise == SB_RISE_UNCLEAR && !model && !sb_audit_meets_stated (work)) {
    sb_audit_add_reason (audit, "Without its shape a rise at a limit cannot be told from a filter's; a larger step or "
                                "a higher sample rate would tell.");
    return SB_AUDIT_CANNOT_TELL;
  }
  if (!numbers) {
    sb_audit_add_reason (audit, "The levels are no numbers above zero, so proportion cannot be checked.");
    return rises_throughout (work) ? SB_AUDIT_LIMITS : SB_AUDIT_CANNOT_TELL;
  }
  if (audit->proportion != SB_PROPORTION_NONE)
    return SB_AUDIT_LIMITS;
  if (model) {
    sb_audit_add_reason (audit, "By the drive model a slope limit binds at every level, though not in proportion.");
    return SB_AUDIT_LIMITS;
  }
  gboolean sizes = sb_audit_stated_slope (work->level[0]) > 0;
  sb_audit_add_reason (audit,
                       "The slope moves with the level but is not seen to be in proportion to it: levels closer "
                       "to the lowest one, or more repeats, would tell.%s",
                       sizes ? ""
                             : " Where the levels are places on a scale, not sizes, words in their stead (low, "
                               "medium, high) leave it to the straight rise.");
  return SB_AUDIT_CANNOT_TELL;
}

/* A moving mean leaves a straight rise too, whose slope follows the level of a setting by number, time or word. Only
 * another size of step, or the slope that the level itself states, tells the two apart. */
static void
doubt_fixed_duration (SbAuditWork *work, SbStepSays steps)
{
  if (steps == SB_STEP_SLOPE_STAYS || sb_audit_meets_stated (work))
    return;
  work->may_be_moving_mean = TRUE;
  sb_audit_add_reason (work->audit, "%s, so the verdict is in doubt.",
                       steps == SB_STEP_ONE_SIZE
                           ? "One size of step cannot tell this from a moving mean over a fixed time (a second would)"
                           : "The other size of step does not tell this from a moving mean over a fixed time");
}

static SbAuditVerdict
judge_moving_slope (SbAuditWork *work)
{
  if (!rise_takes_another_time (work))
    return SB_AUDIT_CANNOT_TELL;
  if (!velocity_agrees (work))
    return SB_AUDIT_CANNOT_TELL;
  SbRiseKind rise = judge_rise (work, least_steep_level (work));
  SbStepSays steps = sb_audit_compare_steps (work);
  SbAuditVerdict verdict
      = rise == SB_RISE_ROUNDED || steps == SB_STEP_DURATION_STAYS ? SB_AUDIT_SHAPES : judge_shape (work, rise);
  if (verdict == SB_AUDIT_LIMITS)
    doubt_fixed_duration (work, steps);
  tell_models (work);
  return verdict;
}

static SbAuditVerdict
judge (SbAuditWork *work)
{
  SbAudit *audit = work->audit;
  if (work->n_levels < 2) {
    sb_audit_add_reason (audit, "An audit needs the setting at two levels or more; there is %s%s.",
                         work->n_levels == 1 ? "one: " : "none",
                         work->n_levels == 1 ? sb_audit_level (audit, 0)->text : "");
    return SB_AUDIT_CANNOT_TELL;
  }
  sb_audit_tell_measure (work, SB_MEASURE_MEAN_TORQUE_SLOPE);
  sb_audit_tell_measure (work, SB_MEASURE_PEAK_TORQUE_SLOPE);
  SbAuditEffect slope = slope_effect (work);
  if (slope != SB_EFFECT_MOVES && sb_audit_levels_are_too_close (work))
    return SB_AUDIT_CANNOT_TELL;
  switch (slope) {
  case SB_EFFECT_STEADY:
    return sb_audit_judge_steady (work);
  case SB_EFFECT_MOVES:
    return audit->of_range ? SB_AUDIT_LIMITS : judge_moving_slope (work);
  case SB_EFFECT_UNDECIDED:
    return sb_audit_judge_undecided (work);
  case SB_EFFECT_ABSENT:
  case SB_N_EFFECTS:
    break;
  }
  return SB_AUDIT_CANNOT_TELL;
}

static gboolean
is_doubted_slope (const SbAuditWork *work, SbMeasureId id)
{
  return sb_audit_is_slope (id) && sb_audit_measure (work, id)->doubted;
}

/* What shapes does so by what moves: one measure without doubts is enough. */
static gboolean
shapes_by_doubts (const SbAuditWork *work)
{
  gboolean any = FALSE;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    if (sb_audit_effect (work, (SbMeasureId) m) != SB_EFFECT_MOVES)
      continue;
    if (!sb_audit_measure (work, (SbMeasureId) m)->doubted)
      return FALSE;
    any = TRUE;
  }
  return any && work->audit->verdict == SB_AUDIT_SHAPES;
}

static void
find_doubts (SbAuditWork *work)
{
  gboolean by_moves = shapes_by_doubts (work);
  g_autofree char *slopes = sb_audit_list_measures (work, is_doubted_slope);
  g_autofree char *moved = by_moves ? sb_audit_list_measures (work, moves_beside_slope) : NULL;
  work->audit->doubted
      = slopes != NULL || moved != NULL || work->may_be_moving_mean || work->is_loose || work->is_unlike;
  if (work->is_unlike)
    sb_audit_add_reason (work->audit, "Something else differs between the levels, and may have made what is seen: see "
                                      "what is not alike.");
  if (slopes == NULL && moved == NULL)
    return;
  sb_audit_add_reason (work->audit, "The verdict has the doubts of these, which the measures tell: %s%s%s.",
                       slopes != NULL ? slopes : "", slopes != NULL && moved != NULL ? ", " : "",
                       moved != NULL ? moved : "");
}

void
sb_audit_judge (SbAuditWork *work)
{
  SbAudit *audit = work->audit;
  audit->verdict = judge (work);
  if (audit->verdict != SB_AUDIT_LIMITS) {
    audit->ceiling = -1;
    audit->ceiling_slope = NAN;
    audit->shown_to = -1;
  }
  if (audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].trend_of_means)
    sb_audit_add_reason (audit, "There are more than 2000 repeats: trends are those of the means at the levels.");
  tell_noise (work);
  tell_drift (work);
  find_doubts (work);
}
