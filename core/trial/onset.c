/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "onset.h"

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

/* Time at which the rise that passes 50 % just before sample `at` crossed `level`: the crossing nearest to it, so that
 * noise far before does not count (IEEE Std 181). */
static double
last_crossing_before (const double *t, const double *y, gsize at, int direction, double level)
{
  for (gsize i = at; i > 0; i--)
    if (direction * (y[i - 1] - level) < 0)
      return t[i - 1] + (t[i] - t[i - 1]) * ((level - y[i - 1]) / (y[i] - y[i - 1]));
  return t[0];
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
  double base = sb_level_mode (y, tenth, SB_LEVEL_BINS, NULL);
  double top = plateau ? sb_level_mode (y + half, back - half, SB_LEVEL_BINS, NULL) : extreme;
  gsize at50 = first_beyond (y, 1, n, direction, base, 0.5 * fabs (top - base));
  if (at50 == n)
    return FALSE;
  double t50 = last_crossing_before (t, y, at50, direction, base + 0.5 * (top - base));
  double t10 = last_crossing_before (t, y, at50, direction, base + 0.1 * (top - base));
  *onset = (SbOnset){
    .onset_s = fmax (t[0], t10 - (t50 - t10) / 4), /* 10 % back along a line that takes 40 % in t50 - t10 */
    .direction = direction,
    .base = base,
    .top = top,
    .level_end_s = level_end (t, y, half, back, n, top, LEAVE_SHARE * fabs (top - base)),
  };
  return TRUE;
}
