/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rises on a rig that rings: is what looks rounded a straight one seen through the ringing that follows it? */
#include "audit_parts.h"

#include <math.h>

/* Only a torque that goes beyond its top by more than this share of the step is taken to ring. */
#define LEAST_OVERSHOOT 0.015
/* A rig is taken for one when with it the rises of all levels are so much nearer to ramps than without. */
#define LEAST_GAIN  0.5
#define LEAST_SHIFT 0.03 /* root mean square, of quarters and overshoots */
/* Not all rises are ramps when they are further off than this behind the best rig. */
#define RAMPS_ALL 0.05
#define RAMPS_ANY 0.08 /* none of them is taken for one then */
/* A ramp that the rig turns into a much smaller change of what is seen cannot be made out. */
#define MOST_POWER 2.5
#define SMALL_STEP 1.02
/* The better of two explanations is closer by this share. */
#define CLEARLY_BETTER 0.5
#define LAGS_APART     0.25 /* of what counts as straight */

/* Where rigs are looked for: frequencies evenly on a logarithmic scale, then nearer and nearer the best. */
#define LEAST_HZ      8.0
#define MOST_HZ       250.0
#define LEAST_DAMPING 0.03
#define MOST_DAMPING  0.6
#define N_HZ          16
#define N_HZ_COARSE   8
#define N_REFINED     4
#define REFINE_SHARE  0.5

static const double dampings[] = { 0.04, 0.1, 0.18, 0.3 };

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
  double power = fabs (log (longer_s / length_s) / log (SMALL_STEP));
  if (power <= MOST_POWER)
    ramp = (SbRigRamp){ transition_s / 0.8 / length_s, power };
  return ramp;
}

static SbSeenRise *
all_seen (const SbAuditWork *work)
{
  SbSeenRise *seen = g_new (SbSeenRise, work->n_levels + 1);
  for (gsize i = 0; i < work->n_levels; i++) {
    SbRise rise = sb_audit_rise (work->level[i], work->choices.straight_ratio);
    seen[i] = seen_of (work, i, &rise);
  }
  return seen;
}

/* Root mean square difference of all levels' rises from ramps behind the rig; each counts 1 at most. */
static double
off_ramps (const SbRig *rig, const SbSeenRise *seen, gsize n)
{
  double squares = 0;
  gsize counted = 0;
  for (gsize i = 0; i < n; i++) {
    double length_s;
    SbSeenRise fitted;
    gboolean fits = sb_rig_fit (rig, SB_RISE_FORM_RAMP, seen[i].transition_s, &length_s, &fitted);
    for (int q = 0; q <= SB_RISE_QUARTERS; q++) {
      double off = q < SB_RISE_QUARTERS ? seen[i].quarter[q] - fitted.quarter[q] : seen[i].overshoot - fitted.overshoot;
      if (isnan (q < SB_RISE_QUARTERS ? seen[i].quarter[q] : seen[i].overshoot))
        continue;
      squares += fits ? fmin (1, off * off) : 1;
      counted++;
    }
  }
  return counted > 0 ? sqrt (squares / (double) counted) : HUGE_VAL;
}

typedef struct {
  const SbSeenRise *seen;
  gsize n;
  SbRig best;
  double off;
} Search;

static void
try_rig (Search *search, double hz, double damping)
{
  SbRig rig = { TRUE, hz, damping };
  double off = off_ramps (&rig, search->seen, search->n);
  if (off < search->off) {
    search->off = off;
    search->best = rig;
  }
}

static void
search_rig (Search *search)
{
  double step = log (MOST_HZ / LEAST_HZ) / (N_HZ - 1), damping_step = log (1.7);
  for (int k = 0; k < N_HZ; k++)
    for (gsize d = 0; d < G_N_ELEMENTS (dampings); d++)
      try_rig (search, LEAST_HZ * exp (k * step), dampings[d]);
  for (int r = 0; r < N_REFINED; r++) {
    step *= REFINE_SHARE;
    damping_step *= r > 0 ? REFINE_SHARE : 1;
    SbRig centre = search->best;
    for (int k = -1; k <= 1; k++)
      for (int d = -1; d <= 1; d++)
        if (k != 0 || d != 0)
          try_rig (search, centre.hz * exp (k * step),
                   fmin (MOST_DAMPING, fmax (LEAST_DAMPING, centre.damping * exp (d * damping_step))));
  }
}

/* Of those whose quarters are known. */
static gsize
steepest_of (const SbSeenRise *seen, gsize n)
{
  gsize best = 0;
  for (gsize i = 1; i < n; i++)
    if (!isnan (seen[i].quarter[0])
        && (isnan (seen[best].quarter[0]) || seen[i].transition_s < seen[best].transition_s))
      best = i;
  return best;
}

void
sb_audit_find_rig (SbAuditWork *work)
{
  for (gsize i = 0; i < work->n_levels; i++)
    work->ramp[i] = (SbRigRamp){ 1, 1 };
  if (work->n_levels < 2 || work->audit->of_range)
    return;
  g_autofree SbSeenRise *seen = all_seen (work);
  double overshoot = 0;
  for (gsize i = 0; i < work->n_levels; i++)
    overshoot = fmax (overshoot, seen[i].overshoot);
  double plain = off_ramps (NULL, seen, work->n_levels);
  if (overshoot < LEAST_OVERSHOOT || plain < LEAST_SHIFT || isinf (plain))
    return;
  Search search = { seen, work->n_levels, { 0 }, HUGE_VAL };
  search_rig (&search);
  gboolean ramps = search.off < RAMPS_ANY;
  if (search.off > RAMPS_ALL) { /* a filter shapes some of them: the steepest is shaped least */
    Search steepest = { &seen[steepest_of (seen, work->n_levels)], 1, { 0 }, HUGE_VAL };
    search_rig (&steepest);
    plain = off_ramps (NULL, steepest.seen, 1);
    search = steepest;
  }
  if (search.off > LEAST_GAIN * plain)
    return;
  work->rig = search.best;
  work->rig_of_ramps = ramps;
  work->audit->rig_hz = work->rig.hz;
  work->audit->rig_damping = work->rig.damping;
  for (gsize i = 0; i < work->n_levels; i++)
    work->ramp[i] = ramp_of (&work->rig, seen[i].transition_s);
}

/* A rig that makes a lag look most like what is seen. */
static double
distance_to_lags (const SbSeenRise *seen)
{
  double least = HUGE_VAL, step = log (MOST_HZ / LEAST_HZ) / (N_HZ_COARSE - 1);
  for (int k = 0; k < N_HZ_COARSE; k++)
    for (gsize d = 0; d < G_N_ELEMENTS (dampings); d++) {
      SbRig rig = { TRUE, LEAST_HZ * exp (k * step), dampings[d] };
      least = fmin (least, distance_to_forms (&rig, seen, SB_RISE_FORM_LAG, SB_RISE_FORM_TWO_LAGS));
    }
  return least;
}

/* Rounded, or of no shape that is known. */
static SbRiseKind
judge_without_rig (SbAuditWork *work, const SbRise *rise, const SbSeenRise *seen)
{
  if (rise->kind != SB_RISE_ROUNDED)
    return rise->kind;
  double straight = distance_to_forms (NULL, seen, SB_RISE_FORM_RAMP, SB_RISE_FORM_RAMP);
  if (distance_to_forms (NULL, seen, SB_RISE_FORM_LAG, SB_RISE_FORM_HALF_COSINE) < CLEARLY_BETTER * straight)
    return rise->kind;
  sb_audit_add_reason (work->audit,
                       "No lag or rounding looks like it either, but a rig that rings may: what was behind "
                       "it cannot be told.");
  return SB_RISE_UNCLEAR;
}

SbRiseKind
sb_audit_rise_before_rig (SbAuditWork *work, gsize level, const SbRise *rise)
{
  SbSeenRise seen = seen_of (work, level, rise);
  if (!work->rig.known)
    return judge_without_rig (work, rise, &seen);
  double tolerance = work->choices.straight_ratio;
  double straight = distance_to_forms (&work->rig, &seen, SB_RISE_FORM_RAMP, SB_RISE_FORM_RAMP);
  double rounded = fmin (distance_to_forms (&work->rig, &seen, SB_RISE_FORM_LAG, SB_RISE_FORM_HALF_COSINE),
                         distance_to_forms (NULL, &seen, SB_RISE_FORM_LAG, SB_RISE_FORM_HALF_COSINE));
  double lagged = distance_to_lags (&seen);
  SbRiseKind kind = SB_RISE_UNCLEAR;
  if (work->rig_of_ramps && straight + rise->half_width < tolerance
      && lagged > straight + rise->half_width + LAGS_APART * tolerance)
    kind = SB_RISE_STRAIGHT;
  else if (straight - rise->half_width > CLEARLY_BETTER * tolerance && rounded < CLEARLY_BETTER * straight)
    kind = SB_RISE_ROUNDED;
  static const char *const says[] = {
    [SB_RISE_UNCLEAR] = "what it made of the rise cannot be told",
    [SB_RISE_STRAIGHT] = "so the drive's own rise is straight, as a limit leaves it",
    [SB_RISE_ROUNDED] = "so the drive's own rise is rounded, as a filter leaves it",
  };
  g_autofree char *hz = sb_measure_format (SB_MEASURE_RINGING_FREQUENCY, work->rig.hz, NAN, TRUE);
  g_autofree char *damping = sb_measure_format (SB_MEASURE_RINGING_DAMPING, work->rig.damping, NAN, FALSE);
  char off[2][G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (off[0], sizeof off[0], "%.2f", straight);
  g_ascii_formatd (off[1], sizeof off[1], "%.2f", rounded);
  sb_audit_add_reason (work->audit,
                       "All rises look as on a rig that rings at %s with a damping ratio of %s; behind it the quarters "
                       "and the overshoot of a straight rise are within %s of those seen, of the nearest rounded one "
                       "within %s: %s.",
                       hz, damping, isfinite (straight) ? off[0] : "no bound", isfinite (rounded) ? off[1] : "no bound",
                       says[kind]);
  return kind;
}
