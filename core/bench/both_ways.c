/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "both_ways.h"

#include "comparison.h"
#include "statistics.h"

#include <math.h>
#include <string.h>

#define LEVEL 0.05
/* Share of the mean that the ways must be apart to be worth a word. */
#define SMALLEST_RATIO 0.01

/* The values of one measure, up and down. */
typedef struct {
  double *values[2];
  gsize n[2];
} Ways;

/* FALSE when a used repeat has no such value. */
static gboolean
take (Ways *ways, const SbConfigurationResult *configuration, guint id)
{
  ways->n[0] = ways->n[1] = 0;
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    if (trial->measures == NULL || !trial->measures->measure[id].present)
      return FALSE;
    int down = trial->facts->mirrored ? 1 : 0;
    ways->values[down][ways->n[down]++] = trial->measures->measure[id].value;
  }
  return ways->n[0] >= 2 && ways->n[1] >= 2;
}

static gboolean
differ (const Ways *ways, double level)
{
  double mean[2], sd[2];
  for (int w = 0; w < 2; w++) {
    mean[w] = sb_mean (ways->values[w], ways->n[w]);
    sd[w] = sb_sd (ways->values[w], ways->n[w]);
  }
  SbWelch welch;
  return fabs (mean[0] - mean[1]) > SMALLEST_RATIO * fabs (mean[0] + mean[1]) / 2
         && sb_welch (mean[0], sd[0], ways->n[0], mean[1], sd[1], ways->n[1], &welch) && welch.p < level;
}

static guint
differing (Ways *ways, const SbConfigurationResult *configuration)
{
  gsize n_tested = 0;
  guint found = 0;
  for (guint id = 0; id < SB_N_MEASURES; id++)
    n_tested += take (ways, configuration, id) ? 1 : 0;
  for (guint id = 0; id < SB_N_MEASURES; id++)
    if (take (ways, configuration, id) && differ (ways, LEVEL / (double) n_tested))
      found |= 1u << id;
  return found;
}

static SbTrialResult *
first_down (const SbConfigurationResult *configuration, gsize n[2])
{
  SbTrialResult *first = NULL;
  for (guint t = 0; t < configuration->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (configuration->trials, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    n[trial->facts->mirrored ? 1 : 0]++;
    if (trial->facts->mirrored && first == NULL)
      first = trial;
  }
  return first;
}

guint
sb_both_ways_differing (const SbConfigurationResult *configuration)
{
  gsize n[2] = { 0 };
  first_down (configuration, n);
  if (n[0] < 2 || n[1] < 2)
    return 0;
  g_autofree double *up_values = g_new (double, n[0]), *down_values = g_new (double, n[1]);
  Ways ways = { .values = { up_values, down_values } };
  return differing (&ways, configuration);
}

/* "mean torque slope, dead time" (transfer full) */
static char *
names_of (guint measures)
{
  GString *names = g_string_new (NULL);
  for (guint id = 0; id < SB_N_MEASURES; id++) {
    if ((measures & 1u << id) == 0)
      continue;
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) id)->name, -1);
    g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
  }
  return g_string_free (names, FALSE);
}

void
sb_both_ways_find (const SbConfigurationResult *configuration, SbRepeatRemark remark)
{
  guint measures = sb_both_ways_differing (configuration);
  if (measures == 0)
    return;
  gsize n[2] = { 0 };
  SbTrialResult *down = first_down (configuration, n);
  g_autofree char *names = names_of (measures);
  remark (
      down,
      g_strdup_printf ("the %" G_GSIZE_FORMAT " repeats that step down and the %" G_GSIZE_FORMAT
                       " that step up differ in %s (Welch's test, 5 %% shared by the measures), and a mean over both "
                       "describes neither",
                       n[1], n[0], names),
      "Put one way into a configuration of its own");
}
