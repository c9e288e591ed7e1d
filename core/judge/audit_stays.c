/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict where the slope stays, or is not seen to move. */
#include "audit_stays.h"

#include "audit_proportion.h"
#include "audit_words.h"

#include <math.h>

gboolean
sb_audit_is_for_the_noise (const SbAuditWork *work, SbMeasureId id)
{
  return sb_audit_measure (work, id)->within_noise || sb_audit_measure (work, id)->in_noise;
}

static gboolean
is_undecided_beside_slope (const SbAuditWork *work, SbMeasureId id)
{
  return sb_audit_effect (work, id) == SB_EFFECT_UNDECIDED && !sb_audit_is_slope (id)
         && !sb_audit_is_for_the_noise (work, id);
}

/* FALSE as well when the slope is known not to be in proportion. */
static gboolean
are_too_close (const SbAuditWork *work)
{
  const SbAudit *audit = work->audit;
  const SbAuditMeasure *slope = sb_audit_measure (work, SB_MEASURE_MEAN_TORQUE_SLOPE);
  double first = sb_audit_level (audit, 0)->x, last = sb_audit_level (audit, (guint) work->n_levels - 1)->x;
  if (audit->of_range || !audit->numeric || !(first > 0) || slope->effect == SB_EFFECT_ABSENT)
    return FALSE;
  double direct = slope->points[0].mean * (last / first - 1), inverse = slope->points[0].mean * (first / last - 1);
  const double *ci95 = slope->change.ci95;
  gboolean may_follow = (ci95[0] <= direct && direct <= ci95[1]) || (ci95[0] <= inverse && inverse <= ci95[1]);
  return fabs (direct) <= slope->margin && may_follow;
}

gboolean
sb_audit_levels_are_too_close (SbAuditWork *work)
{
  if (!are_too_close (work))
    return FALSE;
  const SbAuditMeasure *slope = sb_audit_measure (work, SB_MEASURE_MEAN_TORQUE_SLOPE);
  g_autofree char *margin
      = sb_measure_format_in (SB_MEASURE_MEAN_TORQUE_SLOPE, work->audit->units, slope->margin, NAN, TRUE);
  sb_audit_add_reason (work->audit,
                       "The levels lie closer together than the margin of ± %s: a slope in proportion to them would "
                       "stay within it. Levels farther apart, or a smaller margin, would tell.",
                       margin);
  return TRUE;
}

/* What noise or sampling may account for may be an effect as well; what stands above the noise at no level is none that
 * is seen. */
static gboolean
may_hide_an_effect (const SbAuditWork *work)
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbAuditMeasure *measure = sb_audit_measure (work, (SbMeasureId) m);
    if ((measure->within_noise && !measure->in_noise)
        || (measure->within_sampling && measure->p_holm < work->choices.level))
      return TRUE;
  }
  return FALSE;
}

/* The margin says what matters; that nothing can be detected is another thing. */
static gboolean
is_seen_within_margin (const SbAuditWork *work, SbMeasureId id)
{
  SbAuditEffect effect = sb_audit_effect (work, id);
  return (effect == SB_EFFECT_STEADY || (effect == SB_EFFECT_UNDECIDED && !sb_audit_is_for_the_noise (work, id)))
         && sb_audit_measure (work, id)->p_holm < work->choices.level;
}

static SbAuditVerdict
tell_unmoved (SbAuditWork *work)
{
  g_autofree char *seen = sb_audit_list_measures (work, is_seen_within_margin);
  if (seen == NULL)
    return SB_AUDIT_NO_EFFECT;
  sb_audit_add_reason (work->audit,
                       "Seen to move for all that, if by no more than the margin: %s. A smaller margin would tell what "
                       "by.",
                       seen);
  return SB_AUDIT_CANNOT_TELL;
}

static gboolean
tell_what_moves (SbAuditWork *work)
{
  gboolean any = FALSE;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    if (sb_audit_effect (work, (SbMeasureId) m) != SB_EFFECT_MOVES)
      continue;
    if (!sb_audit_is_slope ((SbMeasureId) m)) /* told already */
      sb_audit_tell_measure (work, (SbMeasureId) m);
    any = TRUE;
  }
  return any;
}

SbAuditVerdict
sb_audit_judge_steady (SbAuditWork *work)
{
  if (!work->audit->of_range)
    sb_audit_tell_stated (work);
  if (tell_what_moves (work))
    return SB_AUDIT_SHAPES;
  g_autofree char *undecided = sb_audit_list_measures (work, is_undecided_beside_slope);
  sb_audit_add_reason (work->audit, "No other measure is seen to move.");
  if (undecided != NULL)
    sb_audit_add_reason (work->audit, "Not known to stay within the margin either: %s.", undecided);
  if (may_hide_an_effect (work) || sb_audit_effect (work, SB_MEASURE_MEAN_VELOCITY) == SB_EFFECT_UNDECIDED)
    return SB_AUDIT_CANNOT_TELL;
  return tell_unmoved (work);
}

/* The rise takes the time it took, and something else moves. */
static gboolean
moves_without_slope (const SbAuditWork *work)
{
  gboolean any = FALSE;
  for (int m = 0; m < SB_N_MEASURES; m++)
    any = any || sb_audit_effect (work, (SbMeasureId) m) == SB_EFFECT_MOVES;
  return any && sb_audit_effect (work, SB_MEASURE_PEAK_TORQUE_SLOPE) != SB_EFFECT_MOVES
         && sb_audit_effect (work, SB_MEASURE_TORQUE_TRANSITION_TIME) != SB_EFFECT_MOVES;
}

/* By what a slope in proportion to the level would change at least, either way; NaN when levels have no proportion. */
static double
change_in_proportion (const SbAuditWork *work)
{
  const SbAudit *audit = work->audit;
  double first = sb_audit_level (audit, 0)->x, last = sb_audit_level (audit, (guint) work->n_levels - 1)->x;
  return audit->of_range || !audit->numeric || !(first > 0) ? (double) NAN : 1 - first / last;
}

/* The margin says what matters and is not met; whether a slope follows the level is asked more coarsely, within the
 * share that proportion is told to. */
static gboolean
is_no_limit (const SbAuditWork *work, double share)
{
  return moves_without_slope (work) && change_in_proportion (work) > 2 * share
         && sb_audit_stays_within (work, SB_MEASURE_MEAN_TORQUE_SLOPE, share);
}

SbAuditVerdict
sb_audit_judge_undecided (SbAuditWork *work)
{
  double share = work->choices.proportion_ratio;
  if (!is_no_limit (work, share)) {
    sb_audit_add_reason (work->audit, "The torque slope neither moves for certain nor is known to stay within the "
                                      "margin: more repeats would tell.");
    return SB_AUDIT_CANNOT_TELL;
  }
  sb_audit_add_reason (
      work->audit,
      "The torque slope is not known to stay within the margin, but is to stay within ± %.4g %% (two "
      "one-sided tests at 5 %%), where one in proportion to the level would change by %.3g %% or more: "
      "it does not follow the level, but the verdict is in doubt.",
      100 * share, 100 * change_in_proportion (work));
  work->is_loose = TRUE;
  tell_what_moves (work);
  return SB_AUDIT_SHAPES;
}
