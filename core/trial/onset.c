/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "onset.h"

#include "crossing.h"
#include "levels.h"

#include <math.h>

/* A sample within this share of the step from a level belongs to it. */
#define LEVEL_SHARE 0.02
/* The commanded level ends where the command leaves it by more than this share of the step. */
#define LEAVE_SHARE 0.25
/* A response has its base level in at least so many samples. */
#define MIN_BASE_SAMPLES 3

/* First index from `first` at which direction * (y - from) exceeds `by`; n when none. */
static gsize
first_beyond (const double *y, gsize first, gsize n, int direction, double from, double by)
{
  for (gsize i = first; i < n; i++)
    if (direction * (y[i] - from) > by)
      return i;
  return n;
}

/* A range that is only the rounding of a constant is no step. */
static gboolean
is_flat (double lowest, double highest)
{
  return !(highest - lowest > 1e-9 * fmax (fabs (lowest), fabs (highest)));
}

gboolean
sb_onset_by_command (const double *t, const double *y, gsize n, SbOnset *onset)
{
  double lowest, highest;
  sb_value_range (y, n, &lowest, &highest);
  if (n < 2 || is_flat (lowest, highest))
    return FALSE;

  /* Half of the whole range is a threshold that noise on a measured command does not reach. */
  double half_range = (highest - lowest) / 2;
  gsize rise = first_beyond (y, 1, n, 1, y[0], half_range * (1 - 1e-12));
  gsize fall = first_beyond (y, 1, rise, -1, y[0], half_range * (1 - 1e-12));
  if (rise == n && fall == n)
    return FALSE;
  int direction = fall < rise ? -1 : 1;
  gsize moved = MIN (rise, fall);

  double base = sb_level_mode (y, moved, SB_LEVEL_BINS, NULL);
  gsize back = first_beyond (y, moved, n, -direction, y[moved], half_range / 2);
  double top = sb_level_mode (y + moved, back - moved, SB_LEVEL_BINS, NULL);
  double step = fabs (top - base), middle = (base + top) / 2;
  gsize i = first_beyond (y, 1, n, direction, middle, -1e-12 * step);
  if (i == n)
    return FALSE;

  gsize reached = i;
  while (reached < n && fabs (y[reached] - top) > LEVEL_SHARE * step)
    reached++;
  gsize end = reached;
  while (end < n && fabs (y[end] - top) <= LEAVE_SHARE * step)
    end++;
  *onset = (SbOnset){
    .onset_s = sb_edge_time (t, y, i, base, top),
    .direction = direction,
    .base = base,
    .top = top,
    .level_end_s = end < n && end > reached ? t[end - 1] : t[n - 1],
  };
  return TRUE;
}

void
sb_onset_at_step (const double *t, const double *y, gsize end, gsize n, const SbStep *step, SbOnset *onset)
{
  double share = LEAVE_SHARE * fabs (step->top_nm - step->base_nm);
  gsize after = step->top_last + 1;
  while (after < end && fabs (y[after] - step->top_nm) <= share)
    after++;
  *onset = (SbOnset){
    .onset_s = step->edge_s,
    .direction = step->direction,
    .base = step->base_nm,
    .top = step->top_nm,
    .level_end_s = after < n ? t[after - 1] : t[n - 1],
  };
}

/* The line through the 10 % and 50 % crossings, carried back by 10 % of the step along a line that takes 40 % between
 * them. The rise is the one that first passes 50 %: what crosses 10 % far before it does not count (IEEE Std 181). */
static gboolean
carry_back (const double *t, const double *y, gsize n, const SbBaseLevel *base, double top, SbOnset *onset)
{
  SbStates states = { base->level, top, base->sd };
  double step = top - base->level, sign = step < 0 ? -1 : 1;
  gsize at = first_beyond (y, 1, n, (int) sign, base->level, 0.5 * fabs (step));
  if (at == n)
    return FALSE;
  while (at > 0 && sign * (y[at] - base->level) >= 0.1 * fabs (step))
    at--;
  SbCrossing crossing[2];
  if (!sb_transition_crossings (t, y, at, n - 1, &states, 2, crossing))
    return FALSE;
  double back_s = (crossing[1].t_s - crossing[0].t_s) / 4;
  double base_u = base->n >= 2 ? base->sd / sqrt ((double) base->n) : 0;
  onset->onset_s = fmax (t[0], crossing[0].t_s - back_s);
  onset->uncertainty_s = hypot (hypot (1.25 * crossing[0].uncertainty_s, 0.25 * crossing[1].uncertainty_s),
                                base_u * 10 * back_s / fabs (step));
  return TRUE;
}

/* Time of the last sample before `back` within `by` of the level `top`; the last time when the response holds to the
 * end. */
static double
level_end (const double *t, const double *y, gsize half, gsize back, gsize n, double top, double by)
{
  if (back == n)
    return t[n - 1];
  gsize end = back - 1;
  while (end > half && fabs (y[end] - top) > by)
    end--;
  return t[end];
}

gboolean
sb_onset_by_response (const double *t, const double *y, gsize n, gboolean plateau, SbOnset *onset)
{
  double lowest, highest;
  sb_value_range (y, n, &lowest, &highest);
  if (n < 2 * MIN_BASE_SAMPLES || is_flat (lowest, highest))
    return FALSE;
  int direction = highest - y[0] >= y[0] - lowest ? 1 : -1;
  double extreme = direction > 0 ? highest : lowest;
  double reach = fabs (extreme - y[0]);
  gsize half = first_beyond (y, 0, n, direction, y[0], 0.5 * reach);
  gsize tenth = half;
  while (tenth > 0 && direction * (y[tenth - 1] - y[0]) > 0.1 * reach)
    tenth--;
  if (half == n || tenth < MIN_BASE_SAMPLES)
    return FALSE;

  /* A torque that is taken back before the log ends may rest at its base for longer than it held its top. */
  gsize back = plateau ? first_beyond (y, half, n, -direction, y[0], -0.25 * reach) : n;
  SbBaseLevel base = sb_level_base (y, tenth);
  double share, top = extreme;
  if (plateau)
    top = sb_level_mode (y + half, back - half, SB_LEVEL_BINS, NULL);
  if (plateau && 3 * base.sd > reach / SB_LEVEL_BINS) /* a bin is too narrow for the noise */
    top = sb_level_near (y + half, back - half, top, 3 * base.sd, &share);
  SbOnset found = { .direction = direction, .base = base.level, .top = top };
  if (!carry_back (t, y, n, &base, top, &found))
    return FALSE;
  /* The foot of the rise was among the samples of the base. */
  gsize n_before = tenth;
  while (n_before > MIN_BASE_SAMPLES && t[n_before - 1] >= found.onset_s)
    n_before--;
  base = sb_level_base (y, n_before);
  found.base = base.level;
  carry_back (t, y, n, &base, top, &found);
  found.level_end_s = level_end (t, y, half, back, n, top, LEAVE_SHARE * fabs (top - base.level));
  *onset = found;
  return TRUE;
}
