/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"

#include "derived_channels.h"
#include "methods_columns.h"
#include "methods_levels.h"
#include "methods_table.h"
#include "results_judgements.h"
#include "results_pair.h"
#include "value_range.h"
#include "verdict_words.h"

#include <math.h>
#include <string.h>

static const char *
plural (gsize n)
{
  return n == 1 ? "" : "s";
}

static gboolean
is_excluded_as (const SbTrialResult *trial, const char *reason)
{
  return trial->failure == NULL && !trial->included && g_strcmp0 (trial->exclusion_reason, reason) == 0;
}

/* "run-2.csv and run-5.csv were excluded by the tester (rim touched)": all of one reason, in the place of the first. */
static void
append_excluded (GString *text, const SbConfigurationResult *configuration, guint first)
{
  const char *reason = sb_configuration_result_trial (configuration, first)->exclusion_reason;
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (g_free);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (is_excluded_as (trial, reason) && t < first)
      return;
    if (is_excluded_as (trial, reason))
      g_ptr_array_add (files, sb_trial_result_label (trial));
  }
  for (guint i = 0; i < files->len; i++)
    g_string_append_printf (text, "%s%s",
                            i == 0                ? " "
                            : i + 1 == files->len ? " and "
                                                  : ", ",
                            (const char *) g_ptr_array_index (files, i));
  g_string_append_printf (text, " %s excluded by the tester (%s).", files->len == 1 ? "was" : "were",
                          reason != NULL ? reason : "no reason given");
}

static void
append_exclusions (GString *text, const SbConfigurationResult *configuration)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    g_autofree char *file = sb_trial_result_label (trial);
    if (trial->failure != NULL)
      g_string_append_printf (text, " %s could not be used (%s).", file, trial->failure);
    else if (!trial->included)
      append_excluded (text, configuration, t);
    for (guint i = 0; trial->remark_facts != NULL && i < trial->remark_facts->len; i++)
      g_string_append_printf (text, " %s: %s.", file, (const char *) g_ptr_array_index (trial->remark_facts, i));
  }
}

/* Nobody may take it for measured. */
static void
append_derived (GString *text, const SbConfigurationResult *configuration)
{
  g_autoptr (GPtrArray) clauses = sb_derived_channels (configuration);
  for (guint i = 0; i < clauses->len; i++) {
    g_autofree char *sentence = sb_derived_sentence (clauses->pdata[i]);
    g_string_append_printf (text, " %s", sentence);
  }
}

/* Nothing where it was not stated. */
static void
append_number (GString *text, const char *before, double value, const char *unit)
{
  g_autofree char *number = sb_number_plain (value);
  if (isfinite (value))
    g_string_append_printf (text, "%s%s%s", before, number, unit);
}

/* Figures and curves are of the step as if it went up. */
static void
append_direction (GString *text, gsize n_down, gsize n_used)
{
  if (n_down == 0)
    return;
  if (n_down < n_used)
    g_string_append_printf (text, " %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT, n_down, n_used);
  else
    g_string_append (text, n_used == 1 ? " It" : " All of them");
  g_string_append (text, n_down == 1 ? " steps down and was turned over." : " step down and were turned over.");
}

static void
append_configuration (GString *text, const SbConfigurationResult *configuration)
{
  SbValueRange rate = { 0 };
  const SbTrialFacts *first = NULL;
  gsize rows_left_out = 0, n_cut = 0, n_cut_logs = 0, n_down = 0;
  g_autoptr (GHashTable) logs = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!trial->included || trial->facts == NULL)
      continue;
    first = first != NULL ? first : trial->facts;
    sb_value_range_add (&rate, 1 / trial->facts->sample_interval_s);
    n_cut += trial->n_steps > 0 ? 1 : 0;
    n_down += trial->facts->mirrored ? 1 : 0;
    if (!g_hash_table_add (logs, trial->path))
      continue;
    rows_left_out += trial->facts->n_rows_left_out;
    n_cut_logs += trial->n_steps > 0 ? 1 : 0;
  }
  g_string_append_printf (text, "%s: %" G_GSIZE_FORMAT " repeat%s", configuration->name, configuration->n_used,
                          plural (configuration->n_used));
  if (n_cut > 0)
    g_string_append_printf (text, " (%" G_GSIZE_FORMAT " of them step%s of %" G_GSIZE_FORMAT " log%s)", n_cut,
                            plural (n_cut), n_cut_logs, plural (n_cut_logs));
  if (first != NULL) {
    g_string_append (text, " at ");
    sb_value_range_append (text, &rate);
    g_string_append (text, " samples per second");
    if (first->device != NULL)
      g_string_append_printf (text, "; device %s", first->device);
    if (first->firmware != NULL)
      g_string_append_printf (text, ", firmware %s", first->firmware);
    for (guint s = 0; s < first->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (first->settings, s);
      g_string_append_printf (text, "%s %s %s", s == 0 ? "; settings:" : ",", setting->name, setting->text);
    }
    append_number (text, "; rotation range ", first->rotation_deg, "°");
    append_number (text, "; inertia ", first->inertia_kg_m2, " kg·m²");
  }
  g_string_append_c (text, '.');
  if (rows_left_out > 0)
    g_string_append_printf (text, " %" G_GSIZE_FORMAT " faulty row%s left out.", rows_left_out,
                            rows_left_out == 1 ? " was" : "s were");
  append_direction (text, n_down, configuration->n_used);
  append_derived (text, configuration);
  sb_methods_columns_append (text, configuration);
  append_exclusions (text, configuration);
  g_string_append (text, "\n\n");
}

/* Said once, when any trial used is a stretch of its log. */
static void
append_cutting (GString *text, const SbAnalysis *analysis)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (!trial->included || trial->facts == NULL || trial->n_steps == 0)
        continue;
      g_string_append (text, "Logs that hold several steps of the command were cut into a trial for each, from the "
                             "middle of the level before it to the end of the level stepped to, or where the tester "
                             "cut them. ");
      return;
    }
  }
}

/* How many repeats were used of all configurations, and of the one with most. */
static gsize
count_used (const SbAnalysis *analysis, gsize *most)
{
  gsize n = 0;
  *most = 0;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    gsize n_used = sb_analysis_configuration (analysis, c)->n_used;
    n += n_used;
    *most = MAX (*most, n_used);
  }
  return n;
}

/* Nothing when there is no trial. */
static void
append_onsets (GString *text, const SbAnalysis *analysis, gsize n_used)
{
  gsize count[SB_ONSET_BY_HAND + 1] = { 0 };
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->included && trial->facts != NULL)
        count[trial->facts->onset_from]++;
    }
  }
  static const char *const how[] = {
    [SB_ONSET_FROM_COMMAND] = "where the command crosses the middle of its two levels",
    [SB_ONSET_FROM_TORQUE] = "estimated by the line through the 10 % and 50 % crossings of the torque",
    [SB_ONSET_FROM_VELOCITY] = "estimated by the line through the 10 % and 50 % crossings of the velocity",
    [SB_ONSET_BY_HAND] = "placed by hand",
  };
  const char *joint = n_used == 1 ? "Time is counted from the onset of the step: "
                                  : "The repeats were aligned on the onset of the step: ";
  for (gsize i = 0; i < G_N_ELEMENTS (how); i++)
    if (count[i] > 0) {
      g_string_append_printf (text, "%s%s (%" G_GSIZE_FORMAT " trial%s)", joint, how[i], count[i], plural (count[i]));
      joint = "; ";
    }
  g_string_append (text, n_used > 0 ? ". " : "");
}

/* Of what is drawn around the mean curves. */
static void
append_band (GString *text, const SbBench *bench)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (digits, sizeof digits, "%.3g", bench->band_k);
  switch (bench->band) {
  case SB_BAND_SD:
    g_string_append_printf (text,
                            "Bands around mean curves reach %s standard deviation%s of the repeats to either side. ",
                            digits, strcmp (digits, "1") == 0 ? "" : "s");
    return;
  case SB_BAND_CONFIDENCE:
    g_string_append (text, "Bands around mean curves are 95 % intervals of the mean after Student, at each instant for "
                           "itself. ");
    return;
  case SB_BAND_RANGE:
    g_string_append (text, "Bands around mean curves reach from the smallest to the largest of the repeats. ");
    return;
  case SB_BAND_QUARTILES:
    g_string_append (text, "Bands around mean curves reach from the first to the third quartile of the repeats. ");
    return;
  case SB_N_BANDS:
    return;
  }
}

static void
append_grid (GString *text, const SbBench *bench, gsize most)
{
  if (most < 2)
    return;
  g_string_append (text, bench->span == SB_SPAN_COMMON
                             ? "Each was interpolated linearly onto one grid, over the time that all repeats cover. "
                             : "Each was interpolated linearly onto one grid, over the time that any repeat covers. ");
  append_band (text, bench);
}

/* What the figures are: of single repeats there is neither a deviation nor an interval. */
static void
append_figures (GString *text, const SbAnalysis *analysis, gsize most)
{
  gsize n_lone = 0;
  for (guint c = 0; c < analysis->configurations->len; c++)
    n_lone += sb_analysis_configuration (analysis, c)->n_used == 1 ? 1 : 0;
  if (most == 1)
    g_string_append (text, n_lone == 1 ? "Figures are those of a single repeat; nothing is known of their scatter. "
                                       : "Figures are those of single repeats; nothing is known of their scatter. ");
  if (most < 2)
    return;
  g_string_append (text, "Figures are means over the repeats with the sample standard deviation (n − 1); intervals of "
                         "means are 95 % intervals after Student (GUM, type A); two single repeats differ by more than "
                         "2.8 standard deviations with a probability of 5 % (ISO 5725). ");
  if (n_lone > 0)
    g_string_append_printf (text, "%s with one repeat %s no deviation and no interval. ",
                            n_lone == 1 ? "The configuration" : "Configurations", n_lone == 1 ? "has" : "have");
}

static void
append_window (GString *text, const SbBench *bench)
{
  if (bench->measure.slope_window_s > 0)
    g_string_append_printf (text, "The slope window was %.6g ms, made an odd number of samples. ",
                            1000 * bench->measure.slope_window_s);
  else
    g_string_append (text, "The slope window was the larger of 5 samples and 1 ms. ");
  g_string_append_printf (text, "The settling band was ± %.4g %% of the step. ",
                          100 * bench->measure.settling_band_ratio);
  if (bench->measure.smoothing_s > 0)
    g_string_append_printf (text, "The velocity was smoothed by a moving mean over %.6g ms before its peak was taken. ",
                            1000 * bench->measure.smoothing_s);
}

/* The same choice gives another frequency where the sample rates differ; what each trial was taken with depends on them
 * alone. */
static void
append_cutoff (GString *text, const SbAnalysis *analysis)
{
  SbValueRange cutoff = { 0 };
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->included && trial->measures != NULL)
        sb_value_range_add (&cutoff, trial->measures->smoothness_cutoff_hz);
    }
  }
  if (cutoff.n == 0)
    return;
  g_string_append (text, "The torque smoothness was cut off at ");
  sb_value_range_append (text, &cutoff);
  g_string_append (text, " Hz. ");
}

/* Of a model, the words of its form, or why there is none; NULL: none was asked for. (transfer full) */
static char *
outcome_of_fit (const SbConfigurationResult *configuration, gboolean *present)
{
  if (configuration->drive == NULL)
    return NULL;
  *present = configuration->drive->present;
  return *present ? sb_drive_form_words (configuration->drive->form) : g_strdup (configuration->drive->absent_reason);
}

/* Configurations of one form, or without a model for one reason, in one sentence, in the order of the first of each. */
static void
append_drive_forms (GString *text, const SbAnalysis *analysis)
{
  g_autoptr (GHashTable) told = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    gboolean present = FALSE;
    g_autofree char *outcome = outcome_of_fit (sb_analysis_configuration (analysis, c), &present);
    if (outcome == NULL || g_hash_table_contains (told, outcome))
      continue;
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    for (guint k = c; k < analysis->configurations->len; k++) {
      gboolean unused;
      g_autofree char *same = outcome_of_fit (sb_analysis_configuration (analysis, k), &unused);
      if (g_strcmp0 (same, outcome) == 0)
        g_ptr_array_add (names, sb_analysis_configuration (analysis, k)->name);
    }
    g_ptr_array_add (names, NULL);
    g_autofree char *list = g_strjoinv (", ", (char **) names->pdata);
    if (present)
      g_string_append_printf (text, "Form used for %s: %s. ", list, outcome);
    else
      g_string_append_printf (text, "No model for %s, because %s. ", list, outcome);
    g_hash_table_add (told, g_steal_pointer (&outcome));
  }
}

static void
append_drive_models (GString *text, const SbAnalysis *analysis)
{
  if (analysis->bench->drive_model == SB_DRIVE_MODEL_NONE)
    return;
  g_string_append (
      text,
      "A model of the drive was fitted to the mean curves: torque that follows the delayed command through a slope "
      "limit, a ceiling and at most a lag and one ringing mode, in the form with the smallest Bayesian information "
      "criterion; and J dω/dt = T − b ω − Tc sgn ω, driven by the torque as measured. Least squares were weighted by "
      "the spread of the repeats; standard errors come from how far each repeat alone would move the linearised fit. ");
  append_drive_forms (text, analysis);
}

static void
append_units (GString *text, SbUnits units)
{
  g_string_append_printf (text, "Torque slopes are shown in %s and velocities in %s. ",
                          sb_slope_unit_name (units.slope), sb_velocity_unit_name (units.velocity));
}

/* Nothing where there are no sentences. */
static void
append_paragraph (GString *text, const char *sentences)
{
  g_autofree char *stripped = g_strstrip (g_strdup (sentences));
  if (stripped[0] != '\0')
    g_string_append_printf (text, "%s\n\n", stripped);
}

/* How trials and figures were made. */
static char *
figures_paragraph (const SbAnalysis *analysis)
{
  gsize most, n_used = count_used (analysis, &most);
  GString *text = g_string_new (NULL);
  append_cutting (text, analysis);
  append_onsets (text, analysis, n_used);
  append_grid (text, analysis->bench, most);
  append_window (text, analysis->bench);
  append_cutoff (text, analysis);
  sb_methods_levels_append (text, analysis);
  append_figures (text, analysis, most);
  append_units (text, analysis->bench->units);
  return g_string_free (text, FALSE);
}

char *
sb_results_methods_paragraphs (const SbAnalysis *analysis)
{
  g_autofree char *checksum = sb_analysis_data_checksum (analysis), *figures = figures_paragraph (analysis);
  g_autofree char *pair = sb_pair_methods (analysis), *judgements = sb_judgements_methods (analysis);
  g_autofree char *words = sb_verdict_words_methods (analysis->bench), *plan = sb_plan_methods (analysis);
  g_autoptr (GString) drive = g_string_new (NULL);
  append_drive_models (drive, analysis);
  GString *text = g_string_new (NULL);
  for (guint c = 0; c < analysis->configurations->len; c++)
    append_configuration (text, sb_analysis_configuration (analysis, c));
  append_paragraph (text, figures);
  append_paragraph (text, pair);
  append_paragraph (text, plan);
  append_paragraph (text, judgements);
  append_paragraph (text, words);
  append_paragraph (text, drive->str);
  g_string_append_printf (text,
                          "Made with Slewbench %s; data checksum %s (SHA-256 over the checksums of the logs "
                          "used).\n",
                          SB_VERSION, checksum);
  g_autofree char *whole = g_string_free (text, FALSE);
  return g_utf8_make_valid (whole, -1); /* file names need not be UTF-8 */
}

char *
sb_results_methods_text (const SbAnalysis *analysis)
{
  g_autofree char *paragraphs = sb_results_methods_paragraphs (analysis);
  g_autofree char *table = sb_methods_table_markdown (analysis);
  return g_strconcat (paragraphs, "\n", table, NULL);
}
