/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"

#include "choices_json.h"
#include "doubt.h"
#include "json_members.h"
#include "layout_json.h"
#include "proof.h"
#include "results_drive.h"
#include "results_judgements.h"
#include "results_pair.h"

#include <math.h>

static void
add_text_if (JsonBuilder *builder, const char *name, const char *text)
{
  if (text != NULL)
    sb_json_add_string (builder, name, text);
}

/* Doubts and notes: always a list, empty when there are none. */
static void
add_sentences (JsonBuilder *builder, const char *name, const GPtrArray *sentences)
{
  sb_json_begin_list (builder, name);
  for (guint i = 0; sentences != NULL && i < sentences->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (sentences, i));
  json_builder_end_array (builder);
}

static void
add_notes (JsonBuilder *builder, const GPtrArray *notes)
{
  sb_json_begin_list (builder, "notes");
  for (guint i = 0; i < notes->len; i++)
    json_builder_add_string_value (builder, sb_notes_text (notes, i));
  json_builder_end_array (builder);
}

/* In the units of the measures table, whatever is shown. */
static void
add_doubts (JsonBuilder *builder, const GPtrArray *doubts)
{
  sb_json_begin_list (builder, "doubts");
  for (guint i = 0; i < sb_doubts_count (doubts); i++)
    json_builder_add_string_value (builder, sb_doubts_get (doubts, i)->text);
  json_builder_end_array (builder);
}

static void
add_measure (JsonBuilder *builder, SbMeasureId id, const SbMeasure *measure)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  sb_json_begin (builder, info->key);
  if (measure->present) {
    sb_json_add_number (builder, "value", measure->value);
    sb_json_add_string (builder, "unit", info->unit);
    if (isfinite (measure->uncertainty))
      sb_json_add_number (builder, "uncertainty", measure->uncertainty);
    else
      add_text_if (builder, "no_uncertainty", measure->no_uncertainty);
    sb_json_add_pair (builder, "window_s", measure->window_s);
    add_doubts (builder, measure->doubts);
  } else {
    sb_json_add_string (builder, "absent", measure->absent_reason);
  }
  json_builder_end_object (builder);
}

static void
add_faults (JsonBuilder *builder, const SbTrialFacts *facts)
{
  sb_json_begin_list (builder, "faults");
  for (guint i = 0; i < facts->faults->len; i++) {
    const SbFault *fault = g_ptr_array_index (facts->faults, i);
    json_builder_begin_object (builder);
    sb_json_add_integer (builder, "line", (gint64) fault->line);
    add_text_if (builder, "column", fault->column);
    sb_json_add_string (builder, "what", fault->what);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
  if (facts->n_faults > facts->faults->len)
    sb_json_add_integer (builder, "n_faults", (gint64) facts->n_faults);
}

static void
add_facts (JsonBuilder *builder, const SbTrialFacts *facts)
{
  sb_json_add_string (builder, "sha256", facts->sha256);
  sb_json_add_integer (builder, "rows", (gint64) facts->n_rows);
  sb_json_add_integer (builder, "rows_left_out", (gint64) facts->n_rows_left_out);
  sb_json_add_number (builder, "sample_interval_s", facts->sample_interval_s);
  sb_json_add_number (builder, "jitter_s", facts->jitter_s);
  sb_json_add_number (builder, "onset_s", facts->onset_s);
  sb_json_add_string (builder, "onset_from", sb_onset_from_key (facts->onset_from));
  sb_json_add_number (builder, "active_end_s", facts->active_end_s);
  sb_json_add_boolean (builder, "mirrored", facts->mirrored);
  sb_json_begin_list (builder, "derived");
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (facts->derived_words[c] != NULL)
      json_builder_add_string_value (builder, sb_channel_key ((SbChannel) c));
  json_builder_end_array (builder);
}

static void
add_step (JsonBuilder *builder, const SbTrialResult *trial)
{
  if (trial->n_steps == 0)
    return;
  sb_json_begin (builder, "step");
  sb_json_add_integer (builder, "index", trial->step);
  sb_json_add_integer (builder, "of", trial->n_steps);
  sb_json_add_number (builder, "from_s", trial->from_s);
  sb_json_add_number (builder, "to_s", trial->to_s);
  json_builder_end_object (builder);
}

/* By which layout the log was read, and what was stated for it alone. */
static void
add_layout (JsonBuilder *builder, const SbTrialFacts *facts, const SbTrialEntry *entry)
{
  if (facts != NULL && facts->layout != NULL) {
    g_autofree char *signature = sb_layout_signature (facts->layout);
    sb_json_add_string (builder, "layout", signature);
  }
  if (entry->layout != NULL) {
    json_builder_set_member_name (builder, "own_layout");
    sb_layout_choice_build (builder, entry->layout);
  }
}

static void
add_trial (JsonBuilder *builder, const SbTrialResult *trial, const SbTrialEntry *entry)
{
  g_autofree char *file = g_path_get_basename (trial->path);
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "file", file);
  add_step (builder, trial);
  sb_json_add_boolean (builder, "included", trial->included);
  add_text_if (builder, "exclusion_reason", trial->exclusion_reason);
  add_text_if (builder, "failure", trial->failure);
  add_layout (builder, trial->facts, entry);
  if (trial->facts != NULL) {
    add_facts (builder, trial->facts);
    sb_json_begin (builder, "measures");
    for (int m = 0; m < SB_N_MEASURES; m++)
      if (!sb_measure_info ((SbMeasureId) m)->of_configuration)
        add_measure (builder, (SbMeasureId) m, &trial->measures->measure[m]);
    json_builder_end_object (builder);
    add_notes (builder, trial->facts->notes);
    add_sentences (builder, "remarks", trial->remarks);
    if (!trial->log_told)
      add_faults (builder, trial->facts);
  }
  json_builder_end_object (builder);
}

static void
add_summary (JsonBuilder *builder, const SbSummary *summary)
{
  sb_json_begin (builder, "measures");
  for (int m = 0; summary != NULL && m < SB_N_MEASURES; m++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) m);
    const SbMeasureSummary *measure = &summary->measure[m];
    sb_json_begin (builder, info->key);
    if (measure->present) {
      sb_json_add_number (builder, "mean", measure->mean);
      if (isfinite (measure->sd))
        sb_json_add_number (builder, "sd", measure->sd);
      sb_json_add_integer (builder, "n", (gint64) measure->n);
      if (isfinite (measure->ci95[0]))
        sb_json_add_pair (builder, "ci95", measure->ci95);
      if (isfinite (measure->standard_uncertainty)) {
        sb_json_add_number (builder, "standard_uncertainty", measure->standard_uncertainty);
        sb_json_add_number (builder, "repeatability", measure->repeatability);
      }
      if (measure->resolution > 0)
        sb_json_add_number (builder, "resolution", measure->resolution);
      sb_json_add_string (builder, "unit", info->unit);
      add_doubts (builder, measure->doubts);
    } else {
      sb_json_add_string (builder, "absent", measure->absent_reason);
    }
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

/* Of the first used trial: repeats of one configuration are made at one setting; where they are not, the fairness list
 * says so. */
static void
add_settings (JsonBuilder *builder, const SbConfigurationResult *configuration)
{
  sb_json_begin (builder, "settings");
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!trial->included || trial->facts == NULL)
      continue;
    for (guint s = 0; s < trial->facts->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (trial->facts->settings, s);
      sb_json_add_string (builder, setting->name, setting->text);
    }
    break;
  }
  json_builder_end_object (builder);
}

static void
add_configuration (JsonBuilder *builder, const SbConfigurationResult *configuration, const SbConfiguration *of)
{
  const SbEnsemble *ensemble = configuration->ensemble;
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "name", configuration->name);
  add_settings (builder, configuration);
  sb_json_begin_list (builder, "trials");
  for (guint t = 0; t < configuration->trials->len; t++)
    add_trial (builder, sb_configuration_result_trial (configuration, t), sb_configuration_entry (of, t));
  json_builder_end_array (builder);
  sb_json_add_integer (builder, "n", (gint64) configuration->n_used);
  if (ensemble != NULL && ensemble->n_points > 0) {
    double step = ensemble->grid_step_s;
    double span[2]
        = { (double) ensemble->first * step, (double) (ensemble->first + (gint64) ensemble->n_points - 1) * step };
    sb_json_add_number (builder, "grid_step_s", step);
    sb_json_add_pair (builder, "span_s", span);
  }
  add_summary (builder, configuration->summary);
  json_builder_end_object (builder);
}

static void
add_measure_comparison (JsonBuilder *builder, const SbMeasureComparison *measure)
{
  if (!measure->present) {
    sb_json_add_string (builder, "absent", measure->absent_reason);
    return;
  }
  sb_json_add_number (builder, "difference", measure->welch.difference);
  sb_json_add_pair (builder, "ci95", measure->welch.ci95);
  sb_json_add_number (builder, "df", measure->welch.df);
  sb_json_add_number (builder, "p", measure->welch.p);
  sb_json_add_number (builder, "p_holm", measure->p_holm);
  sb_json_add_number (builder, "hedges_g", measure->hedges_g);
  sb_json_add_string (builder, "verdict", sb_verdict_words (measure->verdict));
  sb_json_add_boolean (builder, "doubted", measure->doubted);
  if (measure->doubt != NULL) {
    sb_json_begin_list (builder, "doubts");
    json_builder_add_string_value (builder, measure->doubt);
    json_builder_end_array (builder);
  }
  sb_json_add_number (builder, "margin", measure->margin);
  if (fabs (measure->by_noise) > 0)
    sb_json_add_number (builder, "by_noise", measure->by_noise);
  if (measure->by_steps > 0)
    sb_json_add_number (builder, "by_steps", measure->by_steps);
  if (measure->by_crests > 0)
    sb_json_add_number (builder, "by_crests", measure->by_crests);
  if (!measure->onsets_average_out && measure->by_late_onsets[1] > measure->by_late_onsets[0])
    sb_json_add_pair (builder, "by_sampling", measure->by_late_onsets);
}

static void
add_comparison (JsonBuilder *builder, const SbAnalysis *analysis)
{
  const SbBench *bench = analysis->bench;
  const SbComparison *comparison = analysis->comparison;
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "reference", sb_analysis_configuration (analysis, (guint) bench->reference)->name);
  sb_json_add_string (builder, "other", sb_analysis_configuration (analysis, (guint) bench->other)->name);
  sb_json_begin (builder, "measures");
  for (int m = 0; m < SB_N_MEASURES; m++) {
    sb_json_begin (builder, sb_measure_info ((SbMeasureId) m)->key);
    add_measure_comparison (builder, &comparison->measure[m]);
    sb_settle_build (builder, analysis, (SbMeasureId) m);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
  sb_difference_curves_build (builder, analysis);
  sb_json_begin_list (builder, "fairness");
  for (guint i = 0; i < comparison->fairness->len; i++) {
    const SbFairness *fairness = g_ptr_array_index (comparison->fairness, i);
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "what", fairness->what);
    sb_json_add_string (builder, "reference", fairness->reference);
    sb_json_add_string (builder, "other", fairness->other);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

/* The layouts that logs were read with; others shaped no number. */
static void
add_layouts (JsonBuilder *builder, const SbAnalysis *analysis)
{
  const GPtrArray *layouts = analysis->bench->layouts;
  gboolean begun = FALSE;
  for (guint i = 0; layouts != NULL && i < layouts->len; i++) {
    const SbLayoutChoice *choice = g_ptr_array_index (layouts, i);
    if (!sb_analysis_uses_layout (analysis, choice))
      continue;
    if (!begun)
      sb_json_begin_list (builder, "layouts");
    begun = TRUE;
    sb_layout_choice_build (builder, choice);
  }
  if (begun)
    json_builder_end_array (builder);
}

char *
sb_results_json (const SbAnalysis *analysis)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "slewbench", SB_VERSION);
  sb_json_begin (builder, "choices");
  sb_choices_build (builder, analysis->bench);
  add_layouts (builder, analysis);
  json_builder_end_object (builder);
  sb_json_begin_list (builder, "configurations");
  for (guint c = 0; c < analysis->configurations->len; c++)
    add_configuration (builder, sb_analysis_configuration (analysis, c), sb_bench_configuration (analysis->bench, c));
  json_builder_end_array (builder);
  sb_json_begin_list (builder, "comparisons");
  if (analysis->comparison != NULL)
    add_comparison (builder, analysis);
  json_builder_end_array (builder);
  sb_plan_build (builder, analysis);
  sb_judgements_build (builder, analysis);
  sb_drive_models_build (builder, analysis);
  json_builder_set_member_name (builder, "proof");
  json_builder_add_value (builder, sb_proof_node (analysis, NULL));
  json_builder_end_object (builder);
  return sb_json_text (builder);
}
