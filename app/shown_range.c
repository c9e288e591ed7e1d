/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shown_range.h"

#include "arguments.h"

#include <math.h>

/* From the first to the last sample of all trials that are used, after their onsets. */
static void
find_reach (const SbAnalysis *analysis, double reach_s[2])
{
  reach_s[0] = (double) INFINITY;
  reach_s[1] = -(double) INFINITY;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->failure != NULL || trial->facts == NULL)
        continue;
      reach_s[0] = fmin (reach_s[0], trial->facts->start_s);
      reach_s[1] = fmax (reach_s[1], trial->facts->end_s);
    }
  }
}

gboolean
sb_shown_range_say_empty (const char *command, const SbAnalysis *analysis)
{
  const double *view_s = analysis->bench->chart.view_s;
  double reach_s[2];
  find_reach (analysis, reach_s);
  if (!(reach_s[0] <= reach_s[1]) || (view_s[0] < reach_s[1] && view_s[1] > reach_s[0]))
    return FALSE;
  char text[4][G_ASCII_DTOSTR_BUF_SIZE];
  const double numbers[4] = { view_s[0], view_s[1], reach_s[0], reach_s[1] };
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    g_ascii_formatd (text[i], sizeof text[i], "%.6g", numbers[i]);
  g_printerr ("slewbench %s: nothing was logged from %s to %s s after the onset; the logs reach from %s to %s s. State "
              "--from and --to within that.\n",
              command, text[0], text[1], text[2], text[3]);
  return TRUE;
}
