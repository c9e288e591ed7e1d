/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "model_parts.h"
#include "reduce.h"

#include <math.h>

/* Columns with no more points than this are drawn point by point. */
#define FEW 4

/* Where a walk along a curve stands. */
typedef struct {
  const SbCurve *curve;
  SbCurvePointFunc point;
  gpointer user_data;
  gboolean is_broken; /* the next point starts a line */
  double y;           /* of the last point given */
} CurveWalk;

static void
give (CurveWalk *walk, double x, double y)
{
  if (isnan (y)) {
    walk->is_broken = TRUE;
    return;
  }
  walk->point (x, y, walk->is_broken, walk->user_data);
  walk->is_broken = FALSE;
  walk->y = y;
}

/* The value where the line between points i - 1 and i passes the time `at`. */
static void
give_between (CurveWalk *walk, gsize i, double at)
{
  const SbCurve *curve = walk->curve;
  if (i == 0 || i >= curve->n_points)
    return;
  double before = sb_curve_x (curve, i - 1), share = (at - before) / (sb_curve_x (curve, i) - before);
  give (walk, at, curve->y[i - 1] + share * (curve->y[i] - curve->y[i - 1]));
}

/* The nearer one first, so that the line goes up and down no more than it must. */
static void
give_extremes (CurveWalk *walk, double x, double lowest, double highest)
{
  gboolean falls = !walk->is_broken && fabs (walk->y - highest) < fabs (walk->y - lowest);
  give (walk, x, falls ? highest : lowest);
  give (walk, x, falls ? lowest : highest);
}

static void
give_column (CurveWalk *walk, gsize first, gsize end, double flat)
{
  const SbCurve *curve = walk->curve;
  if (end - first <= FEW) {
    for (gsize i = first; i < end; i++)
      give (walk, sb_curve_x (curve, i), curve->y[i]);
    return;
  }
  double lowest, highest, from = curve->y[first], to = curve->y[end - 1];
  sb_extremes_of (curve->y, &curve->blocks, first, end, &lowest, &highest);
  if (isnan (from))
    walk->is_broken = TRUE;
  if (lowest <= highest) {
    /* A stretch that only rises or falls is the line between its ends. */
    if (!isnan (from) && highest - lowest <= flat)
      give (walk, sb_curve_x (curve, first), from);
    else if (fmin (from, to) <= lowest && fmax (from, to) >= highest && !isnan (from) && !isnan (to)) {
      give (walk, sb_curve_x (curve, first), from);
      give (walk, sb_curve_x (curve, end - 1), to);
    } else {
      give_extremes (walk, (sb_curve_x (curve, first) + sb_curve_x (curve, end - 1)) / 2, lowest, highest);
    }
  }
  if (isnan (to))
    walk->is_broken = TRUE;
}

void
sb_reduce_curve (const SbCurve *curve, const SbColumns *columns, double flat, SbCurvePointFunc point,
                 gpointer user_data)
{
  CurveWalk walk = { .curve = curve, .point = point, .user_data = user_data, .is_broken = TRUE };
  gsize n = curve->n_points;
  double width = (columns->to - columns->from) / (double) columns->n_columns;
  gsize first = sb_first_at_or_after (curve->x, curve->x0, curve->dx, n, columns->from);
  give_between (&walk, first, columns->from);
  for (gsize c = 0; c < columns->n_columns && first < n; c++) {
    double right = c + 1 == columns->n_columns ? columns->to : columns->from + (double) (c + 1) * width;
    gsize end = sb_first_at_or_after (curve->x, curve->x0, curve->dx, n, right);
    if (end > first)
      give_column (&walk, first, end, flat);
    first = MAX (first, end);
  }
  give_between (&walk, first, columns->to);
  if (first == n && n > 1 && !isnan (curve->y[n - 1]) && sb_curve_x (curve, n - 1) > columns->from)
    give (&walk, sb_curve_x (curve, n - 1), curve->y[n - 1]);
}

typedef struct {
  const SbBandArea *band;
  SbBandPointFunc point;
  gpointer user_data;
  gboolean is_broken;
} BandWalk;

static double
band_x (const SbBandArea *band, gsize i)
{
  return band->x != NULL ? band->x[i] : band->x0 + (double) i * band->dx;
}

static void
give_limits (BandWalk *walk, double x, double lower, double upper)
{
  if (isnan (lower) || isnan (upper)) {
    walk->is_broken = TRUE;
    return;
  }
  walk->point (x, lower, upper, walk->is_broken, walk->user_data);
  walk->is_broken = FALSE;
}

static void
give_limits_between (BandWalk *walk, gsize i, double at)
{
  const SbBandArea *band = walk->band;
  if (i == 0 || i >= band->n_points)
    return;
  double before = band_x (band, i - 1), share = (at - before) / (band_x (band, i) - before);
  give_limits (walk, at, band->lower[i - 1] + share * (band->lower[i] - band->lower[i - 1]),
               band->upper[i - 1] + share * (band->upper[i] - band->upper[i - 1]));
}

static void
give_limits_of_column (BandWalk *walk, gsize first, gsize end)
{
  const SbBandArea *band = walk->band;
  if (end - first <= FEW) {
    for (gsize i = first; i < end; i++)
      give_limits (walk, band_x (band, i), band->lower[i], band->upper[i]);
    return;
  }
  double lowest, highest, unused;
  sb_extremes_of (band->lower, &band->lower_blocks, first, end, &lowest, &unused);
  sb_extremes_of (band->upper, &band->upper_blocks, first, end, &unused, &highest);
  if (isnan (band->lower[first]))
    walk->is_broken = TRUE;
  if (isfinite (lowest) && isfinite (highest))
    give_limits (walk, (band_x (band, first) + band_x (band, end - 1)) / 2, lowest, highest);
  if (isnan (band->lower[end - 1]))
    walk->is_broken = TRUE;
}

void
sb_reduce_band (const SbBandArea *band, const SbColumns *columns, SbBandPointFunc point, gpointer user_data)
{
  BandWalk walk = { band, point, user_data, TRUE };
  gsize n = band->n_points;
  double width = (columns->to - columns->from) / (double) columns->n_columns;
  gsize first = sb_first_at_or_after (band->x, band->x0, band->dx, n, columns->from);
  give_limits_between (&walk, first, columns->from);
  for (gsize c = 0; c < columns->n_columns && first < n; c++) {
    double right = c + 1 == columns->n_columns ? columns->to : columns->from + (double) (c + 1) * width;
    gsize end = sb_first_at_or_after (band->x, band->x0, band->dx, n, right);
    if (end > first)
      give_limits_of_column (&walk, first, end);
    first = MAX (first, end);
  }
  give_limits_between (&walk, first, columns->to);
}
