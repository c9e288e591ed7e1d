/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "methods_levels.h"

#include "number_text.h"
#include "value_range.h"

#include <math.h>

/* Levels before the step are told where one is farther from zero than this share of its step, and to this share. */
#define TOLD_SHARE 0.01

typedef struct {
  SbValueRange base;
  double least_step_nm;
  gboolean off_zero;
} Levels;

static void
take (Levels *levels, const SbTransition *transition)
{
  double step_nm = fabs (transition->top_nm - transition->base_nm);
  levels->least_step_nm = levels->base.n == 0 ? step_nm : fmin (levels->least_step_nm, step_nm);
  levels->off_zero = levels->off_zero || fabs (transition->base_nm) > TOLD_SHARE * step_nm;
  sb_value_range_add (&levels->base, transition->base_nm);
}

void
sb_methods_levels_append (GString *text, const SbAnalysis *analysis)
{
  Levels levels = { 0 };
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->included && trial->measures != NULL && trial->measures->transition.has_torque_step)
        take (&levels, &trial->measures->transition);
    }
  }
  if (levels.base.n == 0)
    return;
  g_string_append (text,
                   "Slopes of the torque, its overshoot and undershoot, and the times to a share of its step count "
                   "from its own level before the step, peak torque from the zero of its sensor");
  if (levels.off_zero) {
    double to = TOLD_SHARE * levels.least_step_nm;
    g_autofree char *lowest = sb_number_format (levels.base.lowest, to);
    g_autofree char *highest = sb_number_format (levels.base.highest, to);
    gboolean one = g_str_equal (lowest, highest);
    g_string_append_printf (text, "; that level was %s%s%s N·m", lowest, one ? "" : " to ", one ? "" : highest);
  }
  g_string_append (text, ". ");
}
