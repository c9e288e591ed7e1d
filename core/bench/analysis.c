/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "analysis.h"

#include "analysis_passes.h"
#include "analysis_plan.h"
#include "bench_layouts.h"
#include "judgements.h"
#include "pair.h"
#include "remarks.h"

#include <math.h>
#include <string.h>

static void
trial_result_free (gpointer data)
{
  SbTrialResult *result = data;
  g_free (result->exclusion_reason);
  g_free (result->path);
  g_free (result->failure);
  g_clear_pointer (&result->remarks, g_ptr_array_unref);
  g_clear_pointer (&result->remark_facts, g_ptr_array_unref);
  sb_trial_facts_unref (result->facts);
  sb_measures_unref (result->measures);
  sb_trial_unref (result->trial);
  g_free (result);
}

static void
configuration_result_free (gpointer data)
{
  SbConfigurationResult *result = data;
  g_free (result->name);
  g_ptr_array_unref (result->trials);
  sb_ensemble_unref (result->ensemble);
  sb_summary_unref (result->summary);
  sb_drive_model_unref (result->drive);
  g_free (result);
}

SbAnalysis *
sb_analysis_ref (SbAnalysis *analysis)
{
  g_atomic_ref_count_inc (&analysis->ref_count);
  return analysis;
}

void
sb_analysis_unref (SbAnalysis *analysis)
{
  if (analysis == NULL || !g_atomic_ref_count_dec (&analysis->ref_count))
    return;
  g_ptr_array_unref (analysis->configurations);
  sb_comparison_unref (analysis->comparison);
  g_clear_pointer (&analysis->audits, g_ptr_array_unref);
  g_clear_pointer (&analysis->unaudited, g_ptr_array_unref);
  g_clear_pointer (&analysis->claims, g_ptr_array_unref);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    sb_difference_curve_unref (analysis->difference[c]);
  sb_plan_free (analysis->plan);
  sb_bench_unref (analysis->bench);
  g_free (analysis->data_checksum);
  g_free (analysis);
}

const SbConfigurationResult *
sb_analysis_configuration (const SbAnalysis *analysis, guint index)
{
  g_assert (index < analysis->configurations->len);
  return g_ptr_array_index (analysis->configurations, index);
}

const SbTrialResult *
sb_configuration_result_trial (const SbConfigurationResult *configuration, guint index)
{
  g_assert (index < configuration->trials->len);
  return g_ptr_array_index (configuration->trials, index);
}

gboolean
sb_trial_result_is_used (const SbTrialResult *trial)
{
  return trial->included && trial->facts != NULL;
}

char *
sb_trial_result_label (const SbTrialResult *trial)
{
  SbTrialEntry entry = { .path = trial->path, .step = trial->step, .n_steps = trial->n_steps };
  g_autofree char *label = sb_trial_entry_label (&entry);
  if (trial->n_steps == 0 || trial->facts == NULL)
    return g_steal_pointer (&label);
  char at[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (at, sizeof at, "%.3f", fabs (trial->facts->onset_s));
  return g_strdup_printf ("%s (at %s%s s)", label, trial->facts->onset_s < 0 ? "−" : "", at);
}

/* `logs` holds the paths seen so far. */
static SbConfigurationResult *
configuration_result_new (const SbConfiguration *configuration, GHashTable *logs)
{
  SbConfigurationResult *result = g_new0 (SbConfigurationResult, 1);
  result->name = g_strdup (configuration->name);
  result->style = configuration->style;
  result->drawn = configuration->drawn;
  result->trials = g_ptr_array_new_full (configuration->entries->len, trial_result_free);
  for (guint t = 0; t < configuration->entries->len; t++) {
    const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
    SbTrialResult *trial = g_new0 (SbTrialResult, 1);
    trial->path = g_strdup (entry->path);
    trial->step = entry->step;
    trial->n_steps = entry->n_steps;
    trial->from_s = entry->choices.from_s;
    trial->to_s = entry->choices.to_s;
    trial->log_told = !g_hash_table_add (logs, entry->path);
    trial->included = entry->included;
    trial->off_mean = NAN;
    trial->exclusion_reason = g_strdup (entry->exclusion_reason);
    g_ptr_array_add (result->trials, trial);
  }
  return result;
}

/* Steps of one log are no copies of one another. */
static gsize
count_copies (const SbConfigurationResult *result)
{
  g_autoptr (GHashTable) first = g_hash_table_new (g_str_hash, g_str_equal); /* SHA-256 -> path, borrowed */
  gsize n = 0;
  for (guint t = 0; t < result->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (result->trials, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    const char *path = g_hash_table_lookup (first, trial->facts->sha256);
    if (path == NULL)
      g_hash_table_insert (first, trial->facts->sha256, trial->path);
    else if (strcmp (path, trial->path) != 0)
      n++;
  }
  return n;
}

static void
summarise (SbAnalysis *analysis)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    SbConfigurationResult *result = g_ptr_array_index (analysis->configurations, c);
    g_autoptr (GPtrArray) measures = g_ptr_array_new ();
    for (guint t = 0; t < result->trials->len; t++) {
      SbTrialResult *trial = g_ptr_array_index (result->trials, t);
      analysis->n_failed += trial->failure != NULL ? 1 : 0;
      if (sb_trial_result_is_used (trial))
        g_ptr_array_add (measures, trial->measures);
    }
    result->n_used = measures->len;
    if (measures->len == 0)
      continue;
    result->summary = sb_summary_new ((SbMeasures *const *) measures->pdata, measures->len, result->ensemble);
    sb_summary_doubt_copies (result->summary, count_copies (result), measures->len);
  }
}

static void
fit_drive_models (SbAnalysis *analysis, GCancellable *cancellable)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    SbConfigurationResult *result = g_ptr_array_index (analysis->configurations, c);
    if (result->ensemble == NULL || g_cancellable_is_cancelled (cancellable))
      continue;
    g_autoptr (GPtrArray) facts = sb_configuration_used_facts (result);
    result->drive = sb_drive_model_new (result->ensemble, (SbTrialFacts *const *) facts->pdata, facts->len);
  }
}

static char *
checksum_of_logs (const SbAnalysis *analysis)
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    g_autoptr (GHashTable) logs = g_hash_table_new (g_str_hash, g_str_equal);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (sb_trial_result_is_used (trial) && g_hash_table_add (logs, trial->path))
        g_checksum_update (checksum, (const guchar *) trial->facts->sha256, (gssize) strlen (trial->facts->sha256));
    }
  }
  return g_strndup (g_checksum_get_string (checksum), 8);
}

SbAnalysis *
sb_analysis_run (SbBench *bench, SbCache *cache, SbAnalysisFlags flags, SbAnalysisProgress progress, gpointer user_data,
                 GCancellable *cancellable, GError **error)
{
  g_return_val_if_fail (bench != NULL, NULL);
  g_autoptr (SbAnalysis) analysis = g_new0 (SbAnalysis, 1);
  g_atomic_ref_count_init (&analysis->ref_count);
  analysis->bench = sb_bench_ref (bench);
  analysis->configurations = g_ptr_array_new_with_free_func (configuration_result_free);
  g_autoptr (GHashTable) logs = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint c = 0; c < bench->configurations->len; c++)
    g_ptr_array_add (analysis->configurations, configuration_result_new (sb_bench_configuration (bench, c), logs));

  g_autoptr (SbColumnPool) pool = sb_analysis_keeps_trials (bench, cache, flags) ? NULL : sb_column_pool_new ();
  SbWorkContext context = {
    .measure_choices = &bench->measure,
    .cache = cache,
    .pool = pool,
    .in_background = (flags & SB_ANALYSIS_IN_BACKGROUND) != 0,
    .cancellable = cancellable,
    .progress = progress,
    .progress_data = user_data,
  };
  if (!sb_analysis_read_logs (analysis, flags, &context)) {
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
    return NULL;
  }
  sb_remarks_add (analysis);
  summarise (analysis);
  sb_pair_compare (analysis);
  if (bench->drive_model != SB_DRIVE_MODEL_NONE)
    fit_drive_models (analysis, cancellable);
  sb_judgements_add (analysis, cancellable);
  if (bench->plan && !g_cancellable_is_cancelled (cancellable))
    analysis->plan = sb_analysis_plan_new (analysis, SB_ALL_MEASURES);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  analysis->data_checksum = checksum_of_logs (analysis);
  return g_steal_pointer (&analysis);
}

gboolean
sb_analysis_uses_layout (const SbAnalysis *analysis, const SbLayoutChoice *choice)
{
  g_autoptr (GHashTable) own_layouts = sb_bench_log_layouts (analysis->bench);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->facts != NULL && trial->facts->layout != NULL && !g_hash_table_contains (own_layouts, trial->path)
          && sb_layout_choice_fits (choice, trial->facts->layout))
        return TRUE;
    }
  }
  return FALSE;
}

char *
sb_analysis_data_checksum (const SbAnalysis *analysis)
{
  return analysis->data_checksum != NULL ? g_strdup (analysis->data_checksum) : checksum_of_logs (analysis);
}
