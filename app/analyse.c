/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "apply_options.h"

#include "bench_layouts.h"
#include "chart_painter.h"
#include "cut_steps.h"
#include "input.h"
#include "judgement_options.h"
#include "reading_doubts.h"
#include "shown_range.h"
#include "wanted_options.h"

#include <math.h>

/* The path, because every folder may have a log of this name. */
static gboolean
say_left_out (const SbTrialResult *trial)
{
  g_autofree char *whole = g_filename_display_name (trial->path);
  g_autofree char *path = trial->n_steps > 0 ? g_strdup_printf ("%s, step %u of %u", whole, trial->step, trial->n_steps)
                                             : g_strdup (whole);
  for (guint i = 0; trial->remarks != NULL && i < trial->remarks->len; i++)
    g_printerr ("slewbench: %s: %s.\n", path, (const char *) g_ptr_array_index (trial->remarks, i));
  if (trial->failure != NULL) {
    g_printerr ("slewbench: left out %s: %s\n", path, trial->failure);
    return TRUE;
  }
  if (trial->facts == NULL || trial->facts->n_rows_left_out == 0)
    return trial->facts != NULL && trial->facts->n_rows_of_others > 0; /* which a remark tells */
  if (trial->log_told)
    return TRUE;
  const SbFault *first = trial->facts->faults->len > 0 ? g_ptr_array_index (trial->facts->faults, 0) : NULL;
  g_printerr ("slewbench: %s: %" G_GSIZE_FORMAT " row%s left out", whole, trial->facts->n_rows_left_out,
              trial->facts->n_rows_left_out == 1 ? "" : "s");
  if (first != NULL)
    g_printerr ("; the first fault is at line %" G_GUINT64_FORMAT ": %s", first->line, first->what);
  g_printerr ("\n");
  return TRUE;
}

/* Says once which options state what logs want that could not be read. */
static void
say_wanted (const SbAnalysis *analysis)
{
  g_autoptr (GHashTable) own_layouts = sb_bench_log_layouts (analysis->bench);
  g_autoptr (GPtrArray) wanted = g_ptr_array_new ();
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      SbLogReading reading = { g_hash_table_lookup (own_layouts, trial->path), analysis->bench->layouts };
      if (trial->failure != NULL && trial->facts == NULL)
        sb_wanted_options_add (wanted, trial->path, &reading);
    }
  }
  sb_wanted_options_say (wanted);
}

static SbExitStatus
status_of (const SbAnalysis *analysis)
{
  SbExitStatus status = SB_EXIT_DONE;
  gsize n_used = 0;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    n_used += configuration->n_used;
    for (guint t = 0; t < configuration->trials->len; t++)
      if (say_left_out (sb_configuration_result_trial (configuration, t)))
        status = SB_EXIT_LEFT_OUT;
  }
  say_wanted (analysis);
  return n_used > 0 ? status : SB_EXIT_NOTHING;
}

static gboolean
has_lone_trial (const SbBench *bench)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    guint n_included = 0;
    for (guint t = 0; t < configuration->entries->len; t++)
      n_included += sb_configuration_entry (configuration, t)->included ? 1 : 0;
    if (n_included == 1)
      return TRUE;
  }
  return FALSE;
}

/* Whole trials are needed for quartiles, for a line per repeat, for the marked trial of the evidence, for its ringing,
 * and for the moving band of a lone repeat. `chart` is NULL when none is drawn. */
static gboolean
needs_trials (const SbBench *bench, const SbChartOptions *chart)
{
  if (bench->band == SB_BAND_QUARTILES)
    return TRUE;
  if (chart == NULL)
    return FALSE;
  return bench->chart.trial_lines || chart->evidence != NULL || bench->chart.view == SB_VIEW_RINGING
         || (bench->chart.moving_band && has_lone_trial (bench));
}

/* Not cancelled, it always gives a result. (transfer full) */
static SbAnalysis *
analyse (SbBench *bench, const SbChartOptions *chart)
{
  SbAnalysisFlags flags = needs_trials (bench, chart) ? SB_ANALYSIS_KEEP_TRIALS : SB_ANALYSIS_DEFAULT;
  return sb_analysis_run (bench, NULL, flags, NULL, NULL, NULL, NULL);
}

/* The bench with its logs cut into steps, which is said on stderr; the bench as it is, to be changed, when there is
 * nothing to cut but options wait; else NULL. (transfer full) */
static SbBench *
cut_steps (const SbAnalysis *result, const SbWaitingOptions *waiting)
{
  g_auto (SbCutReport) report = { 0 };
  SbBench *cut = sb_bench_cut_steps (result, &report);
  if (cut != NULL) {
    g_autofree char *text = sb_cut_report_text (&report);
    g_printerr ("slewbench: %s\n", text);
    return cut;
  }
  gboolean waits = waiting->reference || waiting->other || waiting->exclude->len > 0 || waiting->onset->len > 0
                   || waiting->claim->len > 0;
  return waits ? sb_bench_edit (result->bench) : NULL;
}

static SbExitStatus
say_unused_layouts (GPtrArray *stated, const SbAnalysis *result)
{
  g_autoptr (GHashTable) own_layouts = sb_bench_log_layouts (result->bench);
  for (guint c = 0; c < result->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (result, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->facts != NULL && !g_hash_table_contains (own_layouts, trial->path))
        sb_stated_layouts_note (stated, trial->facts->layout);
    }
  }
  return sb_stated_layouts_say_unused (stated);
}

SbExitStatus
sb_arguments_analyse (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart,
                      SbAnalysis **analysis)
{
  if (numbers->inputs == NULL || numbers->inputs[0] == NULL)
    return sb_arguments_wrong (command, "name a session file, folders or log files.");
  g_autoptr (SbBench) bench = sb_bench_new ();
  g_autoptr (GError) error = NULL;
  SbExitStatus left_out = SB_EXIT_DONE;
  if (!sb_input_add (bench, (const char *const *) numbers->inputs, g_strv_length (numbers->inputs), NULL, &error)) {
    g_printerr ("slewbench: %s\n", error->message);
    if (sb_bench_is_empty (bench))
      return SB_EXIT_NOTHING;
    left_out = SB_EXIT_LEFT_OUT;
  }
  SbExitStatus wrong = SB_EXIT_DONE;
  g_autoptr (GPtrArray) stated = sb_layout_options_read (command, &numbers->layout, &wrong);
  if (stated == NULL)
    return wrong;
  sb_stated_layouts_apply (stated, bench);
  g_auto (SbWaitingOptions) waiting = { 0 };
  wrong = sb_options_apply (command, numbers, chart, bench, &waiting);
  if (wrong != SB_EXIT_DONE)
    return wrong;

  if (chart != NULL)
    sb_chart_prepare ();
  g_autoptr (SbAnalysis) result = analyse (bench, chart);
  g_autoptr (SbBench) cut = cut_steps (result, &waiting);
  if (cut != NULL) {
    wrong = sb_options_apply_waiting (command, numbers, &waiting, cut);
    if (wrong != SB_EXIT_DONE)
      return wrong;
    sb_analysis_unref (result);
    result = analyse (cut, chart);
  }
  if (sb_reading_doubts_say (result) != SB_EXIT_DONE)
    left_out = SB_EXIT_LEFT_OUT;
  SbExitStatus status = status_of (result);
  if (say_unused_layouts (stated, result) != SB_EXIT_DONE)
    left_out = SB_EXIT_LEFT_OUT;
  if (status != SB_EXIT_NOTHING && sb_judgement_options_say_unmet (result) != SB_EXIT_DONE)
    left_out = SB_EXIT_LEFT_OUT;
  gboolean states_range = chart != NULL && (!isnan (chart->from_s) || !isnan (chart->to_s));
  if (states_range && status != SB_EXIT_NOTHING && sb_view_is_over_time (result->bench->chart.view)
      && sb_shown_range_say_empty (command, result))
    return SB_EXIT_NOTHING;
  if (status != SB_EXIT_NOTHING)
    *analysis = g_steal_pointer (&result);
  else
    g_printerr ("slewbench: no usable trial in what was given.\n");
  return status == SB_EXIT_DONE ? left_out : status;
}
