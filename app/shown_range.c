/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shown_range.h"

#include "arguments.h"
#include "number_text.h"

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

/* "from 50 to 60 s", "from 50 s on", "up to 60 s": NaN are open ends. (transfer full) */
static char *
range_words (const double range_s[2])
{
  g_autofree char *from = sb_number_plain (range_s[0]), *to = sb_number_plain (range_s[1]);
  if (isnan (range_s[0]))
    return g_strdup_printf ("up to %s s", to);
  return isnan (range_s[1]) ? g_strdup_printf ("from %s s on", from) : g_strdup_printf ("from %s to %s s", from, to);
}

gboolean
sb_shown_range_say_empty (const char *command, const SbAnalysis *analysis)
{
  const double *view_s = analysis->bench->chart.view_s;
  double reach_s[2];
  find_reach (analysis, reach_s);
  if (!(reach_s[0] <= reach_s[1]) || !(view_s[0] >= reach_s[1] || view_s[1] <= reach_s[0]))
    return FALSE;
  g_autofree char *asked = range_words (view_s), *there = range_words (reach_s);
  g_printerr ("slewbench %s: nothing was logged %s after the onset; the logs reach %s. State --from and --to within "
              "that.\n",
              command, asked, there);
  return TRUE;
}
