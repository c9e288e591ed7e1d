/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crossing.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* A sample is beyond a level when it is clear of it by so many standard deviations, or by this share of the step where
 * the noise is larger: the levels of 10 and 90 % are no farther than twice that from the states. */
#define CLEAR_NOISES 3
#define CLEAR_SHARE  0.05
/* The line is fitted to what the transition takes for this share of the step on either side: then it keeps away from
 * the corners of a straight rise. */
#define LINE_SHARE  0.09
#define LINE_POINTS 5
/* It is made shorter by this factor until its bend is within so many of its standard deviations. */
#define SHORTER        0.75
#define BEND_DEVIATION 1.5
#define CENTRE_PASSES  3
/* That it is straight is known only within the noise: so its middle is as uncertain as that of a parabola, by a factor
 * of sqrt (9 / 4) (Savitzky & Golay 1964, many points). */
#define UNKNOWN_BEND 1.5

typedef struct {
  const double *t, *y;
  gsize last;
  double sign, noise, clear; /* sign * y rises */
} Rise;

/* Samples at the ends of the stretch in which the noise may cross the level. */
typedef struct {
  gsize before, beyond;
} Zone;

/* A sample of noise that strays far is back below the level at the next one. */
static gboolean
is_beyond (const Rise *rise, gsize i, double level)
{
  gboolean stays = !(rise->clear > 0) || i == rise->last || rise->sign * (rise->y[i + 1] - level) >= -rise->clear;
  return stays && rise->sign * (rise->y[i] - level) >= rise->clear;
}

static gboolean
find_zone (const Rise *rise, gsize from, double level, Zone *zone)
{
  while (from < rise->last && !(rise->sign * (rise->y[from] - level) < 0))
    from++;
  gsize i = from;
  while (i <= rise->last && !is_beyond (rise, i, level))
    i++;
  if (i > rise->last || i == from)
    return FALSE;
  zone->beyond = i--;
  while (i > from && !(rise->sign * (rise->y[i] - level) < -rise->clear))
    i--;
  zone->before = i;
  return rise->sign * (rise->y[i] - level) < 0;
}

static double
straight (const Rise *rise, gsize i, double level)
{
  const double *t = rise->t, *y = rise->y;
  return t[i] + (t[i + 1] - t[i]) * ((level - y[i]) / (y[i + 1] - y[i]));
}

/* Middle of the first and the last rising passage in the zone: one and the same where the noise does not cross again.
 */
static double
middle_of_zone (const Rise *rise, const Zone *zone, double level, gsize *first_passage, double *apart_s)
{
  gsize low = zone->before, high = zone->beyond - 1;
  while (!(rise->sign * (rise->y[low + 1] - level) >= 0))
    low++;
  while (!(rise->sign * (rise->y[high] - level) < 0))
    high--;
  *first_passage = low;
  double at = straight (rise, low, level), last = high == low ? at : straight (rise, high, level);
  *apart_s = last - at;
  return (at + last) / 2;
}

/* A chord misses a curve by up to an eighth of its second difference. */
static double
chord_error (const Rise *rise, gsize i)
{
  const double *y = rise->y;
  double before = i > 0 ? fabs (y[i + 1] - 2 * y[i] + y[i - 1]) : 0;
  double after = i + 2 <= rise->last ? fabs (y[i + 2] - 2 * y[i + 1] + y[i]) : 0;
  return (before + after) / 16;
}

static SbCrossing
plain_crossing (const Rise *rise, const Zone *zone, double level)
{
  gsize i;
  double apart_s, at = middle_of_zone (rise, zone, level, &i, &apart_s), dt = rise->t[i + 1] - rise->t[i];
  double share = (straight (rise, i, level) - rise->t[i]) / dt, dy = fabs (rise->y[i + 1] - rise->y[i]);
  double off = hypot (rise->noise * hypot (share, 1 - share), chord_error (rise, i));
  return (SbCrossing){ at, i, 2, hypot (off * dt / dy, apart_s / 2) };
}

/* Sums over the samples within `half_s` of `centre_s`, times from their mean. */
typedef struct {
  double n, t, y, tt, ty, ttt, tttt, tty;
} Sums;

static Sums
sums_around (const Rise *rise, gsize near, double centre_s, double half_s)
{
  const double *t = rise->t, *y = rise->y;
  gsize from = near, to = near;
  while (from > 0 && t[from - 1] >= centre_s - half_s)
    from--;
  while (from < rise->last && t[from] < centre_s - half_s)
    from++;
  for (to = from; to < rise->last && t[to + 1] <= centre_s + half_s;)
    to++;
  Sums s = { .n = (double) (to - from + 1) };
  for (gsize i = from; i <= to; i++) {
    s.t += (t[i] - centre_s) / s.n;
    s.y += (y[i] - y[near]) / s.n;
  }
  for (gsize i = from; i <= to; i++) {
    double u = t[i] - centre_s - s.t, v = y[i] - y[near] - s.y;
    s.tt += u * u;
    s.ty += u * v;
    s.ttt += u * u * u;
    s.tttt += u * u * u * u;
    s.tty += u * u * v;
  }
  s.t += centre_s;
  s.y += y[near];
  return s;
}

/* The quadratic part, orthogonal to the line, over its standard deviation. */
static gboolean
is_straight (const Sums *s, double noise)
{
  double bend = s->tty - s->ttt / s->tt * s->ty;
  double norm = s->tttt - s->ttt * s->ttt / s->tt - s->tt * s->tt / s->n;
  return norm > 0 && fabs (bend) <= BEND_DEVIATION * noise * sqrt (norm);
}

/* FALSE when there is no stretch of samples enough that is straight within the noise. */
static gboolean
line_crossing (const Rise *rise, double level, double widest_s, const SbCrossing *rough, SbCrossing *crossing)
{
  gsize near = rough->before;
  double rough_s = rough->t_s;
  for (double half_s = widest_s; half_s >= DBL_MIN; half_s *= SHORTER) { /* what is less no factor makes shorter */
    Sums s = { 0 };
    double at = rough_s;
    for (int pass = 0; pass < CENTRE_PASSES; pass++) {
      s = sums_around (rise, near, at, half_s);
      if (s.n < LINE_POINTS)
        return FALSE;
      double slope = s.ty / s.tt, moved = s.t + (level - s.y) / slope;
      if (!(rise->sign * slope > 0) || !(fabs (moved - rough_s) <= 2 * widest_s))
        return FALSE;
      at = moved;
    }
    if (!is_straight (&s, rise->noise))
      continue;
    double off = UNKNOWN_BEND * rise->noise / sqrt (s.n);
    *crossing = (SbCrossing){ at, near, (gsize) s.n, off * s.tt / fabs (s.ty) };
    while (crossing->before > 0 && rise->t[crossing->before] > at)
      crossing->before--;
    while (crossing->before + 1 < rise->last && rise->t[crossing->before + 1] <= at)
      crossing->before++;
    return TRUE;
  }
  return FALSE;
}

static const double share[3] = { 0.1, 0.5, 0.9 };

/* Time in which the transition goes by the whole step at the pace that it has about crossing k. */
static double
pace (const SbCrossing *crossing, gsize k, gsize n)
{
  gsize before = k > 0 ? k - 1 : 0, after = MIN (k + 1, n - 1);
  return (crossing[after].t_s - crossing[before].t_s) / (share[after] - share[before]);
}

static gboolean
in_order (const SbCrossing *crossing, gsize n)
{
  for (gsize k = 1; k < n; k++)
    if (!(crossing[k - 1].t_s <= crossing[k].t_s))
      return FALSE;
  return TRUE;
}

double
sb_crossing_clear (double step, double noise)
{
  return fmin (CLEAR_NOISES * noise, CLEAR_SHARE * fabs (step));
}

gboolean
sb_transition_crossings (const double *t, const double *y, gsize first, gsize last, const SbStates *states, gsize n,
                         SbCrossing crossing[])
{
  g_return_val_if_fail (n >= 2 && n <= 3, FALSE);
  double step = states->top - states->base, noise = isfinite (states->noise) ? states->noise : 0;
  Rise rise = {
    .t = t,
    .y = y,
    .last = last,
    .sign = step < 0 ? -1 : 1,
    .noise = noise,
    .clear = sb_crossing_clear (step, noise),
  };
  gsize from = first;
  while (from > 0 && !(rise.sign * (y[from] - (states->base + share[0] * step)) < -rise.clear))
    from--;
  SbCrossing plain[3], found[3];
  for (gsize k = 0; k < n; k++) {
    Zone zone;
    if (!find_zone (&rise, from, states->base + share[k] * step, &zone))
      return FALSE;
    plain[k] = found[k] = plain_crossing (&rise, &zone, states->base + share[k] * step);
    from = zone.before;
  }
  if (!in_order (plain, n))
    return FALSE;
  for (gsize k = 0; k < n && noise > 0; k++)
    line_crossing (&rise, states->base + share[k] * step, LINE_SHARE * pace (plain, k, n), &plain[k], &found[k]);
  if (!in_order (found, n))
    memcpy (found, plain, sizeof found);
  memcpy (crossing, found, n * sizeof *crossing);
  return TRUE;
}
