/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rises on a rig that rings: is what looks rounded a straight one seen through the ringing that follows it? */
#include "audit_parts.h"

#include "steady_math.h"

#include <math.h>

/* Only a torque that goes beyond its top by more than this share of the step is taken to ring. */
#define LEAST_OVERSHOOT 0.015
/* A rig is taken for one when with it the rises of all levels are so much nearer to ramps than without. */
#define LEAST_GAIN  0.5
#define LEAST_SHIFT 0.03 /* root mean square, of quarters and overshoots */
/* Not all rises are ramps when they are further off than this behind the best rig. */
#define RAMPS_ALL 0.05
/* A ramp that the rig turns into a much smaller change of what is seen cannot be made out. */
#define MOST_POWER 2.5
#define SMALL_STEP 1.02
/* Without a rig, a rounded form is clearly the better one when it is so much closer. */
#define CLEARLY_BETTER 0.5
/* Twice the logarithm of odds of 20 to 1, which leave 5 % to the other explanation: strong evidence on the scale of
 * Kass & Raftery, J. American Statistical Association 90 (1995) 773 (from memory). */
#define TELLING 6

/* The mean over the repeats, less what noise is expected to have added. */
static double
overshoot_of (const SbAuditInput *level)
{
  double sum = 0;
  gsize n = 0;
  for (gsize i = 0; i < level->n; i++) {
    const SbMeasure *measure = &level->measures[i]->measure[SB_MEASURE_OVERSHOOT];
    if (!measure->present)
      continue;
    sum += measure->value - measure->bias;
    n++;
  }
  return n > 0 ? sum / (double) n : (double) NAN;
}

static SbSeenRise
seen_of (const SbAuditWork *work, gsize level, const SbRise *rise)
{
  SbSeenRise seen = { .overshoot = overshoot_of (work->level[level]) };
  const SbAuditMeasure *transition = &work->audit->measure[SB_MEASURE_TORQUE_TRANSITION_TIME];
  seen.transition_s = transition->points[level].n > 0 ? transition->points[level].mean : (double) NAN;
  for (int q = 0; q < SB_RISE_QUARTERS; q++)
    seen.quarter[q] = rise->quarter[q];
  return seen;
}

/* The smallest distance of the forms from `first` to `last`; infinite when none fits. */
static double
distance_to_forms (const SbRig *rig, const SbSeenRise *seen, SbRiseForm first, SbRiseForm last)
{
  double least = HUGE_VAL;
  for (int form = (int) first; form <= (int) last; form++) {
    double length_s;
    SbSeenRise fitted;
    if (sb_rig_fit (rig, (SbRiseForm) form, seen->transition_s, &length_s, &fitted))
      least = fmin (least, sb_seen_rise_distance (seen, &fitted));
  }
  return least;
}

/* How much steeper the ramp is than what is seen of it. */
static SbRigRamp
ramp_of (const SbRig *rig, double transition_s)
{
  SbRigRamp ramp = { NAN, NAN };
  double length_s, longer_s;
  SbSeenRise seen;
  if (!(transition_s > 0))
    return ramp;
  if (!sb_rig_fit (rig, SB_RISE_FORM_RAMP, transition_s, &length_s, &seen)) {
    if (rig->hz * transition_s > 1) /* too many periods to matter */
      ramp = (SbRigRamp){ 1, 1 };
    return ramp;
  }
  if (!sb_rig_fit (rig, SB_RISE_FORM_RAMP, transition_s * SMALL_STEP, &longer_s, &seen))
    return ramp;
  double power = fabs (sb_log (longer_s / length_s) / sb_log (SMALL_STEP));
  if (power <= MOST_POWER)
    ramp = (SbRigRamp){ transition_s / 0.8 / length_s, power };
  return ramp;
}

/* No drive's rise is of a form exactly: their figures are off by LEAST_SHIFT besides their scatter. */
static SbSeenLevel *
all_seen (const SbAuditWork *work)
{
  SbSeenLevel *levels = g_new (SbSeenLevel, work->n_levels + 1);
  for (gsize i = 0; i < work->n_levels; i++) {
    SbRise rise = sb_audit_rise (work->level[i], work->choices.straight_ratio);
    double u = isnan (rise.u) ? 0 : rise.u;
    levels[i] = (SbSeenLevel){ seen_of (work, i, &rise), LEAST_SHIFT * LEAST_SHIFT + u * u };
  }
  return levels;
}

/* Of all trials whose torque rings; n of them. */
static SbSeenModes *
all_modes (const SbAuditWork *work, gsize *n)
{
  gsize most = 0;
  for (gsize i = 0; i < work->n_levels; i++)
    most += work->level[i]->n;
  SbSeenModes *modes = g_new0 (SbSeenModes, most + 1);
  *n = 0;
  for (gsize i = 0; i < work->n_levels; i++)
    for (gsize k = 0; k < work->level[i]->n; k++) {
      const SbRinging *ringing = &work->level[i]->measures[k]->ringing;
      SbSeenModes *seen = &modes[*n];
      for (gsize m = 0; ringing->channel == SB_CHANNEL_TORQUE && m < ringing->n_modes; m++)
        if (ringing->mode[m].frequency_hz > 0 && ringing->mode[m].damping_ratio > 0) {
          seen->hz[seen->n] = ringing->mode[m].frequency_hz;
          seen->damping[seen->n++] = ringing->mode[m].damping_ratio;
        }
      *n += seen->n > 0 ? 1 : 0;
    }
  return modes;
}

/* Of those whose quarters are known. */
static gsize
steepest_of (const SbSeenLevel *levels, gsize n)
{
  gsize best = 0;
  for (gsize i = 1; i < n; i++)
    if (!isnan (levels[i].seen.quarter[0])
        && (isnan (levels[best].seen.quarter[0]) || levels[i].seen.transition_s < levels[best].seen.transition_s))
      best = i;
  return best;
}

void
sb_audit_find_rig (SbAuditWork *work)
{
  gsize n = work->n_levels;
  for (gsize i = 0; i < n; i++)
    work->ramp[i] = (SbRigRamp){ 1, 1 };
  if (n < 2 || work->audit->of_range)
    return;
  g_autofree SbSeenLevel *levels = all_seen (work);
  double overshoot = 0;
  for (gsize i = 0; i < n; i++)
    overshoot = fmax (overshoot, levels[i].seen.overshoot);
  double plain = sb_rig_off_ramps (NULL, levels, n);
  if (overshoot < LEAST_OVERSHOOT || plain < LEAST_SHIFT || isinf (plain))
    return;
  work->rings = TRUE;
  SbSeenRises seen = { .levels = levels, .n = n };
  g_autofree SbSeenModes *modes = all_modes (work, &seen.n_modes);
  seen.modes = modes;
  SbRig rig = sb_rig_search_ramps (&seen, work->cancellable).rig;
  double off = sb_rig_off_ramps (&rig, levels, n);
  if (off > RAMPS_ALL) { /* a filter shapes some of them: the steepest is shaped least */
    const SbSeenLevel *steepest = &levels[steepest_of (levels, n)];
    seen.levels = steepest;
    seen.n = 1;
    rig = sb_rig_search_ramps (&seen, work->cancellable).rig;
    off = sb_rig_off_ramps (&rig, steepest, 1);
    plain = sb_rig_off_ramps (NULL, steepest, 1);
  }
  if (off > LEAST_GAIN * plain)
    return;
  work->rig = rig;
  work->audit->rig_hz = rig.hz;
  work->audit->rig_damping = rig.damping;
  for (gsize i = 0; i < n; i++)
    work->ramp[i] = ramp_of (&work->rig, levels[i].seen.transition_s);
}

static gboolean
looks_rounded_without_rig (const SbRise *rise, const SbSeenRise *seen)
{
  if (rise->kind != SB_RISE_ROUNDED)
    return FALSE;
  double straight = distance_to_forms (NULL, seen, SB_RISE_FORM_RAMP, SB_RISE_FORM_RAMP);
  return distance_to_forms (NULL, seen, SB_RISE_FORM_LAG, SB_RISE_FORM_HALF_COSINE) < CLEARLY_BETTER * straight;
}

/* "29.1 Hz, damping ratio 0.19" (transfer full) */
static char *
rig_text (const SbRig *rig)
{
  g_autofree char *hz = sb_measure_format (SB_MEASURE_RINGING_FREQUENCY, rig->hz, NAN, TRUE);
  g_autofree char *damping = sb_measure_format (SB_MEASURE_RINGING_DAMPING, rig->damping, NAN, FALSE);
  return g_strdup_printf ("%s, damping ratio %s", hz, damping);
}

static void
tell_explanations (SbAuditWork *work, gsize level, const SbRigFit *straight, const SbRigFit *rounded, SbRiseKind kind)
{
  static const char *const says[] = {
    [SB_RISE_UNCLEAR] = "what the rig made of the rise cannot be told",
    [SB_RISE_STRAIGHT] = "the drive's own rise is straight, as a limit leaves it",
    [SB_RISE_ROUNDED] = "the drive's own rise is rounded, as a filter leaves it",
  };
  double evidence = rounded->chi2 - straight->chi2;
  const char *likelier = evidence > 0 ? "straight" : "rounded";
  g_autofree char *is_far = kind == SB_RISE_UNCLEAR && fabs (evidence) > TELLING
                                ? g_strconcat (likelier, " is the likelier, but what is seen is too far from it", NULL)
                                : NULL;
  g_autofree char *straight_rig = rig_text (&straight->rig);
  g_autofree char *rounded_rig = rig_text (&rounded->rig);
  char chi2[2][G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (chi2[0], sizeof chi2[0], "%.1f", straight->chi2);
  g_ascii_formatd (chi2[1], sizeof chi2[1], "%.1f", rounded->chi2);
  sb_audit_add_reason (work->audit,
                       "Held against rigs that ring, the rises of all levels give χ² = %s when the one at %s is "
                       "straight (%s) and %s when it is rounded (%s); %d between them tells: %s.",
                       chi2[0], sb_audit_level (work->audit, (guint) level)->text, straight_rig, chi2[1], rounded_rig,
                       TELLING, is_far != NULL ? is_far : says[kind]);
}

/* The intervals of all figures lie within the choice of a ramp's. */
static gboolean
is_near (const SbRig *rig, const SbSeenRise *seen, double half_width, double ratio)
{
  return distance_to_forms (rig, seen, SB_RISE_FORM_RAMP, SB_RISE_FORM_RAMP) + half_width < ratio;
}

/* The interval of some figure lies wholly beyond the choice of each rounded form's. */
static gboolean
is_refuted (const SbRig *rig, const SbSeenRise *seen, double half_width, double ratio)
{
  return distance_to_forms (rig, seen, SB_RISE_FORM_LAG, SB_RISE_FORM_HALF_COSINE) - half_width > ratio;
}

/* The rises of all levels with this one straight behind one rig, and with it rounded behind another. */
SbRiseKind
sb_audit_rise_before_rig (SbAuditWork *work, gsize level, const SbRise *rise)
{
  SbSeenRise seen = seen_of (work, level, rise);
  if (!work->rig.known && (!work->rings || looks_rounded_without_rig (rise, &seen)))
    return rise->kind;
  g_autofree SbSeenLevel *levels = all_seen (work);
  SbSeenRises rises = { .levels = levels, .n = work->n_levels };
  g_autofree SbSeenModes *modes = all_modes (work, &rises.n_modes);
  rises.modes = modes;
  SbRigFit straight = sb_rig_search_straight (&rises, level, work->cancellable);
  SbRigFit rounded = sb_rig_search_rounded (&rises, level, work->cancellable);
  double evidence = rounded.chi2 - straight.chi2; /* of a straight rise */
  SbRiseKind kind = SB_RISE_UNCLEAR;
  if (evidence > TELLING && is_near (&straight.rig, &seen, rise->half_width, work->choices.straight_ratio))
    kind = SB_RISE_STRAIGHT;
  else if (evidence < -TELLING && !is_refuted (&rounded.rig, &seen, rise->half_width, work->choices.straight_ratio))
    kind = SB_RISE_ROUNDED;
  tell_explanations (work, level, &straight, &rounded, kind);
  return kind;
}
