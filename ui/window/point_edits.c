/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "point_edits.h"

#include <math.h>

static void
take_away (SbBench *edited)
{
  for (guint c = 0; c < edited->configurations->len; c++)
    for (int k = 0; k < SB_N_CHART_POINTS; k++)
      if (sb_bench_configuration (edited, c)->point[k].is_put)
        sb_bench_edit_configuration (edited, c)->point[k] = (SbChartPoint){ 0 };
}

static gboolean
is_same (const SbChartPoint *a, const SbChartPoint *b)
{
  return a->is_put && b->is_put && a->panel == b->panel && a->on == b->on && !(fabs (a->time_s - b->time_s) > 0);
}

/* Nothing is a step of the history that changes nothing. */
static gboolean
is_as_it_was (const SbBench *bench, const SbPlacedPoint *points, guint n)
{
  guint n_put = 0;
  for (guint c = 0; c < bench->configurations->len; c++)
    for (int k = 0; k < SB_N_CHART_POINTS; k++)
      n_put += sb_bench_configuration (bench, c)->point[k].is_put ? 1 : 0;
  gboolean same = n_put == n;
  for (guint k = 0; same && k < n; k++)
    same = is_same (&sb_bench_configuration (bench, points[k].configuration)->point[k], &points[k].point);
  return same;
}

void
sb_edit_set_points (SbDocument *document, const SbPlacedPoint *points, guint n)
{
  static const char *const steps[] = { "take the points away", "put the first point", "put the second point" };
  g_return_if_fail (n < G_N_ELEMENTS (steps));
  if (is_as_it_was (sb_document_bench (document), points, n))
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  take_away (edited);
  for (guint k = 0; k < n; k++)
    sb_bench_edit_configuration (edited, points[k].configuration)->point[k] = points[k].point;
  sb_document_push (document, edited, steps[n]);
}
