/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "analysis.h"

#include "bench_layouts.h"
#include "judgements.h"
#include "pair.h"
#include "remarks.h"
#include "workers.h"

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

/* Where an item of work belongs. */
typedef struct {
  SbConfigurationResult *configuration;
  SbTrialResult *trial;
} Place;

/* One pass over some of the logs. */
typedef struct {
  Place *places;        /* per item */
  GHashTable *builders; /* SbConfigurationResult -> SbEnsembleBuilder */
  GHashTable *steps;    /* SbConfigurationResult -> double: the step that its builder has to have at least */
  GHashTable
      *compared; /* SbConfigurationResult -> GPtrArray of SbTrial: the first trials of each of the compared pair */
  GHashTable *too_fine; /* SbConfigurationResult: those whose builder did not, and which need another pass */
  SbSpan span;
  guint channels;
  gboolean keep;
} Pass;

/* The builder begins with the first trial's interval as its step. A coarser trial later on asks for another pass. */
static void
add_to_ensemble (Pass *pass, SbConfigurationResult *configuration, SbTrial *trial)
{
  double *coarsest = g_hash_table_lookup (pass->steps, configuration);
  SbEnsembleBuilder *builder = g_hash_table_lookup (pass->builders, configuration);
  if (builder == NULL) {
    double step = coarsest != NULL ? MAX (*coarsest, trial->sample_interval_s) : trial->sample_interval_s;
    builder = sb_ensemble_builder_new (step, pass->span, pass->channels, pass->keep);
    g_hash_table_insert (pass->builders, configuration, builder);
  }
  if (sb_ensemble_builder_add (builder, trial)) {
    sb_pair_keep (pass->compared, configuration, trial);
    return;
  }
  if (coarsest == NULL) {
    coarsest = g_new0 (double, 1);
    g_hash_table_insert (pass->steps, configuration, coarsest);
  }
  g_hash_table_add (pass->too_fine, configuration);
  *coarsest = MAX (*coarsest, trial->sample_interval_s);
}

static void
receive (gsize index, SbTrialWork *work, gpointer user_data)
{
  Pass *pass = user_data;
  SbTrialResult *result = pass->places[index].trial;
  sb_trial_facts_unref (result->facts);
  sb_measures_unref (result->measures);
  g_clear_pointer (&result->trial, sb_trial_unref); /* of the pass before */
  g_free (result->failure);
  result->facts = g_steal_pointer (&work->facts);
  result->measures = g_steal_pointer (&work->measures);
  result->failure = g_steal_pointer (&work->failure);
  result->is_lost = work->cannot_be_opened;
  if (work->trial != NULL && result->included)
    add_to_ensemble (pass, pass->places[index].configuration, work->trial);
  if (pass->keep)
    result->trial = g_steal_pointer (&work->trial);
  sb_trial_work_clear (work);
}

/* TRUE when this log's work is at hand with these choices. */
static gboolean
is_cached (SbCache *cache, const SbTrialEntry *entry, const SbLogReading *reading,
           const SbMeasureChoices *measure_choices)
{
  SbTrialWork work = { 0 };
  SbWorkKey key = { entry->path, reading, &entry->choices, measure_choices };
  if (cache == NULL || !sb_cache_find (cache, &key, &work))
    return FALSE;
  sb_trial_work_clear (&work);
  return TRUE;
}

/* The items of one log, in their order. */
typedef struct {
  GArray *items;  /* SbWorkItem */
  GArray *places; /* Place */
} LogItems;

static void
log_items_free (gpointer data)
{
  LogItems *log = data;
  g_array_unref (log->items);
  g_array_unref (log->places);
  g_free (log);
}

static LogItems *
items_of_log (GPtrArray *logs, GHashTable *by_path, const char *path)
{
  LogItems *log = g_hash_table_lookup (by_path, path);
  if (log != NULL)
    return log;
  log = g_new (LogItems, 1);
  log->items = g_array_new (FALSE, FALSE, sizeof (SbWorkItem));
  log->places = g_array_new (FALSE, FALSE, sizeof (Place));
  g_ptr_array_add (logs, log);
  g_hash_table_insert (by_path, (gpointer) (gsize) path, log);
  return log;
}

/* The items of one pass: all trials, or those of the configurations that `only` has. Trials of one log come together,
 * so that it is read once and held no longer than they need it; logs come in the order of their first trials. */
static gboolean
run_pass (SbAnalysis *analysis, Pass *pass, GHashTable *only, const SbWorkContext *context, gboolean cached_only)
{
  const SbBench *bench = analysis->bench;
  g_autoptr (GPtrArray) logs = g_ptr_array_new_with_free_func (log_items_free);
  g_autoptr (GHashTable) by_path = g_hash_table_new (g_str_hash, g_str_equal); /* path -> LogItems, borrowed */
  g_autoptr (GHashTable) own_layouts = sb_bench_log_layouts (bench);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    SbConfigurationResult *result = g_ptr_array_index (analysis->configurations, c);
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    if (only != NULL && !g_hash_table_contains (only, result))
      continue;
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      SbLogReading reading = { g_hash_table_lookup (own_layouts, entry->path), bench->layouts };
      if (cached_only && !is_cached (context->cache, entry, &reading, context->measure_choices))
        continue;
      SbWorkItem item = { entry->found_at != NULL ? entry->found_at : entry->path, &entry->choices, reading };
      Place place = { result, g_ptr_array_index (result->trials, t) };
      LogItems *log = items_of_log (logs, by_path, entry->path);
      g_array_append_val (log->items, item);
      g_array_append_val (log->places, place);
    }
  }
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (SbWorkItem));
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Place));
  for (guint l = 0; l < logs->len; l++) {
    const LogItems *log = g_ptr_array_index (logs, l);
    g_array_append_vals (items, log->items->data, log->items->len);
    g_array_append_vals (places, log->places->data, log->places->len);
  }
  pass->places = (Place *) (gpointer) places->data;
  return sb_workers_run ((const SbWorkItem *) (gconstpointer) items->data, items->len, context, receive, pass);
}

static void
builder_free (gpointer data)
{
  sb_ensemble_builder_free (data);
}

static void
collect_ensembles (SbAnalysis *analysis, Pass *pass)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    SbConfigurationResult *result = g_ptr_array_index (analysis->configurations, c);
    gpointer builder = NULL;
    if (g_hash_table_steal_extended (pass->builders, result, NULL, &builder))
      result->ensemble = sb_ensemble_builder_finish (builder);
  }
}

/* The drive model takes its errors from the single repeats. */
static gboolean
keeps_trials (const SbBench *bench, SbCache *cache, SbAnalysisFlags flags)
{
  return cache != NULL || (flags & SB_ANALYSIS_KEEP_TRIALS) != 0 || bench->drive_model != SB_DRIVE_MODEL_NONE;
}

static guint
averaged_channels (const SbBench *bench)
{
  guint channels = 1u << SB_CHANNEL_VELOCITY;
  if (sb_pair_chosen (bench))
    channels |= 1u << SB_CHANNEL_TORQUE;
  if (bench->drive_model != SB_DRIVE_MODEL_NONE)
    channels |= 1u << SB_CHANNEL_TORQUE | 1u << SB_CHANNEL_COMMAND;
  for (int p = 0; p < SB_N_PANELS; p++)
    if (bench->chart.panels & 1u << p)
      channels |= 1u << sb_panel_channel ((SbPanel) p);
  if (bench->chart.view == SB_VIEW_SLOPE || bench->chart.view == SB_VIEW_PHASE)
    channels |= 1u << SB_CHANNEL_TORQUE;
  if (bench->chart.view == SB_VIEW_PHASE)
    channels |= 1u << SB_CHANNEL_ANGLE;
  return channels;
}

static void
begin_again (const Pass *pass, SbConfigurationResult *configuration)
{
  g_hash_table_remove (pass->builders, configuration);
  sb_pair_forget (pass->compared, configuration);
}

/* Another pass goes over the configurations that hold a trial coarser than their first one. A third is needed only when
 * a file changes meanwhile. */
static gboolean
run_passes (SbAnalysis *analysis, SbAnalysisFlags flags, const SbWorkContext *context)
{
  g_autoptr (GHashTable) builders = g_hash_table_new_full (NULL, NULL, NULL, builder_free);
  g_autoptr (GHashTable) steps = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr (GHashTable) compared = sb_pair_trials_new (analysis);
  Pass pass = {
    .builders = builders,
    .steps = steps,
    .compared = compared,
    .span = analysis->bench->span,
    .channels = averaged_channels (analysis->bench),
    .keep = keeps_trials (analysis->bench, context->cache, flags),
  };
  gboolean cached_only = (flags & SB_ANALYSIS_CACHED_ONLY) != 0;
  g_autoptr (GHashTable) again = NULL; /* NULL: all */
  do {
    g_autoptr (GHashTable) too_fine = g_hash_table_new (NULL, NULL);
    pass.too_fine = too_fine;
    if (!run_pass (analysis, &pass, again, context, cached_only))
      return FALSE;
    g_clear_pointer (&again, g_hash_table_unref);
    again = g_steal_pointer (&too_fine);
    GHashTableIter iter;
    gpointer configuration;
    g_hash_table_iter_init (&iter, again);
    while (g_hash_table_iter_next (&iter, &configuration, NULL))
      begin_again (&pass, configuration);
  } while (g_hash_table_size (again) > 0);
  collect_ensembles (analysis, &pass);
  sb_pair_compare_curves (analysis, compared);
  return TRUE;
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
    trial->exclusion_reason = g_strdup (entry->exclusion_reason);
    g_ptr_array_add (result->trials, trial);
  }
  return result;
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
    if (measures->len > 0)
      result->summary = sb_summary_new ((SbMeasures *const *) measures->pdata, measures->len, result->ensemble);
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

  g_autoptr (SbColumnPool) pool = keeps_trials (bench, cache, flags) ? NULL : sb_column_pool_new ();
  SbWorkContext context = {
    .measure_choices = &bench->measure,
    .cache = cache,
    .pool = pool,
    .in_background = (flags & SB_ANALYSIS_IN_BACKGROUND) != 0,
    .cancellable = cancellable,
    .progress = progress,
    .progress_data = user_data,
  };
  if (!run_passes (analysis, flags, &context)) {
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
    return NULL;
  }
  sb_remarks_add (analysis);
  summarise (analysis);
  sb_pair_compare (analysis);
  if (bench->drive_model != SB_DRIVE_MODEL_NONE)
    fit_drive_models (analysis, cancellable);
  sb_judgements_add (analysis, cancellable);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  analysis->data_checksum = checksum_of_logs (analysis);
  return g_steal_pointer (&analysis);
}

/* The setting called `name` in the first used trial of a configuration; NULL when not stated there. */
static const SbSetting *
find_setting (const SbConfigurationResult *configuration, const char *name)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    for (guint s = 0; s < trial->facts->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (trial->facts->settings, s);
      if (strcmp (setting->name, name) == 0)
        return setting;
    }
    return NULL;
  }
  return NULL;
}

static gboolean
differs_from_others (const SbAnalysis *analysis, guint index, const SbSetting *setting)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *other = sb_analysis_configuration (analysis, c);
    if (c == index || !other->drawn || other->n_used == 0)
      continue;
    const SbSetting *same = find_setting (other, setting->name);
    if (same == NULL || strcmp (same->text, setting->text) != 0)
      return TRUE;
  }
  return FALSE;
}

char *
sb_analysis_differing_settings (const SbAnalysis *analysis, guint index)
{
  GString *text = g_string_new (NULL);
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, index);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    for (guint s = 0; s < trial->facts->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (trial->facts->settings, s);
      if (differs_from_others (analysis, index, setting))
        g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", setting->name, setting->text);
    }
    break;
  }
  return g_string_free (text, FALSE);
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
