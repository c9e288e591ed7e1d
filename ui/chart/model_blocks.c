/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What frames of a long curve are painted from (blocks.h). */
#include "model_parts.h"

/* Fewer points are looked at faster than blocks are made. */
#define LONG_CURVE 50000

static SbBlocks
blocks_of (SbChartModel *model, const double *y, gsize n)
{
  if (n < LONG_CURVE)
    return (SbBlocks){ 0 };
  return sb_blocks_fill (y, n, sb_chart_model_keep (model, g_new (double, sb_blocks_n_values (n))));
}

void
sb_chart_model_add_blocks (SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->curves->len; i++) {
      SbCurve *curve = &g_array_index (panel->curves, SbCurve, i);
      curve->blocks = blocks_of (model, curve->y, curve->n_points);
    }
    for (guint i = 0; i < panel->bands->len; i++) {
      SbBandArea *band = &g_array_index (panel->bands, SbBandArea, i);
      band->lower_blocks = blocks_of (model, band->lower, band->n_points);
      band->upper_blocks = blocks_of (model, band->upper, band->n_points);
    }
  }
}
