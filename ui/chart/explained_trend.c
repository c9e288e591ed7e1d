/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "explained_trend.h"

#include <math.h>

#define EXPLAINED 0.1
#define MET       0.25 /* of the span of all values: robust against an odd one, but not blind to a bend */
#define STEEPER   (7.0 / 6)
/* Of one level, written in several ways. */
#define SAME_RATIO 1e-9

static gboolean
is_same (double a, double b)
{
  return fabs (a - b) <= SAME_RATIO * fmax (1, fmax (fabs (a), fabs (b)));
}

static double
highest_of (const double *x, gsize n)
{
  double highest = -HUGE_VAL;
  for (gsize i = 0; i < n; i++)
    highest = fmax (highest, x[i]);
  return highest;
}

static double
lowest_of (const double *x, gsize n)
{
  double lowest = HUGE_VAL;
  for (gsize i = 0; i < n; i++)
    lowest = fmin (lowest, x[i]);
  return lowest;
}

/* Within `reach`, or what the values at the level span. */
static gboolean
explains_level (const double *x, const double *y, gsize n, double level, const SbTheilSen *trend, double reach)
{
  double sum = 0, least = HUGE_VAL, most = -HUGE_VAL, count = 0;
  for (gsize i = 0; i < n; i++) {
    if (!is_same (x[i], level))
      continue;
    sum += y[i];
    count++;
    least = fmin (least, y[i]);
    most = fmax (most, y[i]);
  }
  double off = fabs (sum / count - trend->intercept - trend->slope * level);
  return off <= reach || off <= (most - least) / 2;
}

static gboolean
explains_all (const double *x, const double *y, gsize n, const SbTheilSen *trend)
{
  double rise = fabs (trend->slope) * (highest_of (x, n) - lowest_of (x, n));
  for (gsize i = 0; i < n; i++)
    if (!explains_level (x, y, n, x[i], trend, EXPLAINED * rise))
      return FALSE;
  return TRUE;
}

/* Any two are on one line. */
static gboolean
has_three_levels (const double *x, gsize n)
{
  if (n == 0)
    return FALSE;
  double lowest = lowest_of (x, n), highest = highest_of (x, n);
  for (gsize i = 0; i < n; i++)
    if (!is_same (x[i], lowest) && !is_same (x[i], highest))
      return TRUE;
  return FALSE;
}

/* Takes the values at the highest level out; returns how many remain. */
static gsize
drop_highest (double *x, double *y, gsize n)
{
  double highest = highest_of (x, n);
  gsize kept = 0;
  for (gsize i = 0; i < n; i++) {
    if (is_same (x[i], highest))
      continue;
    x[kept] = x[i];
    y[kept++] = y[i];
  }
  return kept;
}

gboolean
sb_explained_trend (const double *x, const double *y, gsize n, SbTheilSen *trend, double at[2], gboolean *shortened)
{
  *shortened = FALSE;
  at[0] = lowest_of (x, n);
  at[1] = highest_of (x, n);
  if (n == 0 || is_same (at[0], at[1]) || !sb_theil_sen (x, y, n, trend))
    return FALSE;
  g_autofree double *kept_x = g_memdup2 (x, n * sizeof *x);
  g_autofree double *kept_y = g_memdup2 (y, n * sizeof *y);
  SbTheilSen shorter = *trend;
  gsize kept = n;
  while (!explains_all (kept_x, kept_y, kept, &shorter)) {
    kept = drop_highest (kept_x, kept_y, kept);
    if (!has_three_levels (kept_x, kept) || !sb_theil_sen (kept_x, kept_y, kept, &shorter))
      return TRUE;
  }
  if (kept == n || !(fabs (shorter.slope) > STEEPER * fabs (trend->slope)))
    return TRUE;
  *shortened = TRUE;
  *trend = shorter;
  at[1] = highest_of (kept_x, kept);
  return TRUE;
}

static gboolean
is_first_at_level (const double *x, gsize i)
{
  for (gsize k = 0; k < i; k++)
    if (is_same (x[k], x[i]))
      return FALSE;
  return TRUE;
}

gboolean
sb_trend_meets_levels (const double *x, const double *y, gsize n, const SbTheilSen *trend, const double at[2])
{
  double reach = fmax (EXPLAINED * fabs (trend->slope) * (at[1] - at[0]), MET * (highest_of (y, n) - lowest_of (y, n)));
  gsize n_levels = 0, n_met = 0;
  for (gsize i = 0; i < n; i++) {
    if (x[i] > at[1] || !is_first_at_level (x, i))
      continue;
    n_levels++;
    n_met += explains_level (x, y, n, x[i], trend, reach) ? 1 : 0;
  }
  return 2 * n_met > n_levels;
}
