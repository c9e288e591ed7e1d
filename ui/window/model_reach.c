/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "model_reach.h"

SbTimeRange
sb_model_reach (const SbChartModel *model)
{
  SbTimeRange all = { model->x_min, model->x_max };
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->curves->len; i++) {
      const SbCurve *curve = &g_array_index (panel->curves, SbCurve, i);
      if (curve->n_points == 0 || curve->thin)
        continue;
      double last = (double) (curve->n_points - 1);
      all.from_s = MIN (all.from_s, curve->x != NULL ? curve->x[0] : curve->x0);
      all.to_s = MAX (all.to_s, curve->x != NULL ? curve->x[curve->n_points - 1] : curve->x0 + last * curve->dx);
    }
  }
  return all;
}
