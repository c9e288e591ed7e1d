/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "difference_stretches.h"

#include <math.h>

/* Beyond the band, and beyond what a shift of the curves by the sampling makes of it. */
static int
sign_beyond (const SbDifferenceCurve *curve, gsize k)
{
  double difference = curve->difference[k], half = curve->half_simultaneous[k];
  double low = curve->by_shift[0] != NULL ? curve->by_shift[0][k] : 0;
  double high = curve->by_shift[1] != NULL ? curve->by_shift[1][k] : 0;
  if (difference - high > half)
    return 1;
  return difference - low < -half ? -1 : 0;
}

/* A run of instants, [from, end), at which the band lies on one side of zero, or several such runs with what is between
 * them. */
typedef struct {
  gsize from, end, n_beyond;
  int sign;
} Run;

/* Whether the instants [from, end) between two runs on one side of zero, however many, tell nothing of a return to it:
 * it is one instant, which by choice is too short to be told as a return, or the difference lies beyond its pointwise
 * band there still, on an average. The wider band of all instants reaches zero by noise alone where a difference is
 * about as large as that band is wide. Where nothing is judged, as half widths are NaN, nothing tells that it stayed.
 */
static gboolean
is_no_return (const SbDifferenceCurve *curve, int sign, gsize from, gsize end)
{
  double left = 0;
  for (gsize k = from; k < end; k++)
    left += sign * curve->difference[k] - curve->half_pointwise[k];
  return isfinite (left) && (end - from == 1 || left > 0);
}

static GArray *
find_runs (const SbDifferenceCurve *curve)
{
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (Run));
  for (gsize k = 0, end; k < curve->n_points; k = end) {
    int sign = sign_beyond (curve, k);
    for (end = k + 1; end < curve->n_points && sign_beyond (curve, end) == sign;)
      end++;
    if (sign == 0)
      continue;
    Run run = { k, end, end - k, sign };
    Run *last = runs->len > 0 ? &g_array_index (runs, Run, runs->len - 1) : NULL;
    if (last != NULL && last->sign == sign && last->end < k && is_no_return (curve, sign, last->end, k)) {
      last->end = end;
      last->n_beyond += run.n_beyond;
    } else {
      g_array_append_val (runs, run);
    }
  }
  return runs;
}

static SbDifferenceStretch
stretch_of (const SbDifferenceCurve *curve, const Run *run)
{
  SbDifferenceStretch stretch = { .from_s = sb_difference_curve_time (curve, run->from),
                                  .to_s = sb_difference_curve_time (curve, run->end - 1),
                                  .sign = run->sign,
                                  .n = run->end - run->from,
                                  .n_beyond = run->n_beyond };
  for (gsize k = run->from; k < run->end; k++) {
    double size = fabs (curve->difference[k]);
    stretch.area += size * curve->step_s;
    if (k == run->from || size > fabs (stretch.largest)) {
      stretch.largest = curve->difference[k];
      stretch.at_s = sb_difference_curve_time (curve, k);
    }
  }
  return stretch;
}

GArray *
sb_difference_stretches_new (const SbDifferenceCurve *curve)
{
  g_autoptr (GArray) runs = find_runs (curve);
  GArray *stretches = g_array_new (FALSE, FALSE, sizeof (SbDifferenceStretch));
  for (guint i = 0; i < runs->len; i++) {
    SbDifferenceStretch stretch = stretch_of (curve, &g_array_index (runs, Run, i));
    g_array_append_val (stretches, stretch);
  }
  return stretches;
}

gboolean
sb_difference_stretch_is_large (const SbDifferenceCurve *curve, guint index, guint n, double from_s, double to_s)
{
  const SbDifferenceStretch *stretches = (const SbDifferenceStretch *) (gpointer) curve->stretches->data;
  guint n_larger = 0;
  for (guint i = 0; i < curve->stretches->len; i++)
    if (stretches[i].to_s >= from_s && stretches[i].from_s <= to_s)
      n_larger
          += stretches[i].area > stretches[index].area || (i < index && stretches[i].area >= stretches[index].area);
  return n_larger < n;
}
