/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "remarks.h"

#include "both_ways.h"
#include "judgements.h"
#include "short_logs.h"
#include "transducer_zero.h"
#include "unlike_repeats.h"

#include <string.h>

static void
remark (SbTrialResult *trial, char *fact, const char *what_to_do)
{
  if (trial->remarks == NULL) {
    trial->remarks = g_ptr_array_new_with_free_func (g_free);
    trial->remark_facts = g_ptr_array_new_with_free_func (g_free);
  }
  fact = sb_plain_sentence (fact);
  g_ptr_array_add (trial->remarks, g_strdup_printf ("%s. %s", fact, what_to_do));
  g_ptr_array_add (trial->remark_facts, fact);
}

static void
remark_on_change (SbTrialResult *trial, const char *saved_sha256)
{
  if (saved_sha256 == NULL || strcmp (saved_sha256, trial->facts->sha256) == 0)
    return;
  trial->is_lost = TRUE;
  remark (trial,
          g_strdup_printf ("this is not the log that the session was saved with: its SHA-256 begins with %.8s, "
                           "that one's with %.8s",
                           trial->facts->sha256, saved_sha256),
          "Locate the old log, or save the session anew to accept this one");
}

/* A copy is no repeat: it narrows the interval and adds nothing. Steps of one log are no copies of one another. */
static void
remark_on_copy (SbTrialResult *trial, GHashTable *seen)
{
  const SbTrialResult *first = g_hash_table_lookup (seen, trial->facts->sha256);
  if (first == NULL) {
    g_hash_table_insert (seen, trial->facts->sha256, trial);
    return;
  }
  if (strcmp (first->path, trial->path) == 0)
    return;
  g_autofree char *name = sb_trial_result_label (first);
  remark (trial, g_strdup_printf ("byte for byte the same as %s of this configuration: a copy is no repeat", name),
          "Leave one of them out");
}

static SbTrialResult *
first_used (const SbConfigurationResult *configuration)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (configuration->trials, t);
    if (sb_trial_result_is_used (trial))
      return trial;
  }
  return NULL;
}

static gboolean
remark_on_unlike (const SbConfigurationResult *configuration)
{
  g_autoptr (GPtrArray) facts = sb_configuration_used_facts (configuration);
  g_autofree char *unlike = sb_unlike_repeats ((SbTrialFacts *const *) facts->pdata, facts->len);
  if (unlike == NULL)
    return FALSE;
  remark (first_used (configuration),
          g_strdup_printf (
              "the repeats of this configuration are not of one test (%s), and a mean over them describes none of them",
              unlike),
          "Put those that differ into a configuration of their own");
  return TRUE;
}

void
sb_remarks_add (SbAnalysis *analysis)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (analysis->bench, c);
    const SbConfigurationResult *result = sb_analysis_configuration (analysis, c);
    g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal); /* SHA-256 -> SbTrialResult */
    for (guint t = 0; t < result->trials->len; t++) {
      SbTrialResult *trial = g_ptr_array_index (result->trials, t);
      if (trial->facts == NULL)
        continue;
      remark_on_change (trial, sb_configuration_entry (configuration, t)->sha256);
      if (trial->included)
        remark_on_copy (trial, seen);
    }
    gboolean unlike = remark_on_unlike (result);
    sb_transducer_zero_find (result, remark);
    sb_short_logs_find (result, analysis->bench->span, remark);
    if (unlike)
      continue; /* what scatters about one value is asked next */
    sb_both_ways_find (result, remark);
    sb_repeat_remarks_find (result, analysis->bench->units, remark);
  }
}
