/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "point_edits.h"

static void
take_away (SbBench *edited)
{
  for (guint c = 0; c < edited->configurations->len; c++)
    for (int k = 0; k < SB_N_CHART_POINTS; k++)
      if (sb_bench_configuration (edited, c)->point[k].is_put)
        sb_bench_edit_configuration (edited, c)->point[k] = (SbChartPoint){ 0 };
}

void
sb_edit_set_points (SbDocument *document, const SbPlacedPoint *points, guint n)
{
  static const char *const steps[] = { "take the points away", "put the first point", "put the second point" };
  g_return_if_fail (n < G_N_ELEMENTS (steps));
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  take_away (edited);
  for (guint k = 0; k < n; k++)
    sb_bench_edit_configuration (edited, points[k].configuration)->point[k] = points[k].point;
  sb_document_push (document, edited, steps[n]);
}
