/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "analysis_passes.h"

#include "bench_layouts.h"
#include "few_repeats.h"
#include "pair.h"

#include <math.h>
#include <string.h>

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
  GHashTable *few_repeats; /* of sb_few_repeats_new() */
  GHashTable *too_fine;    /* SbConfigurationResult: those whose builder did not, and which need another pass */
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
  if (result->included)
    sb_few_repeats_receive (pass->few_repeats, pass->places[index].configuration, result, work->trial);
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
gboolean
sb_analysis_keeps_trials (const SbBench *bench, SbCache *cache, SbAnalysisFlags flags)
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
gboolean
sb_analysis_read_logs (SbAnalysis *analysis, SbAnalysisFlags flags, const SbWorkContext *context)
{
  g_autoptr (GHashTable) builders = g_hash_table_new_full (NULL, NULL, NULL, builder_free);
  g_autoptr (GHashTable) steps = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr (GHashTable) compared = sb_pair_trials_new (analysis);
  g_autoptr (GHashTable) few_repeats = sb_few_repeats_new ();
  Pass pass = {
    .builders = builders,
    .few_repeats = few_repeats,
    .steps = steps,
    .compared = compared,
    .span = analysis->bench->span,
    .channels = averaged_channels (analysis->bench),
    .keep = sb_analysis_keeps_trials (analysis->bench, context->cache, flags),
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
