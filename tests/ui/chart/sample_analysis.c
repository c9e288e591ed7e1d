/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sample_analysis.h"

#include <math.h>

#define STEP_S   1e-3
#define BEFORE_S 0.1
#define N_ROWS   501
#define RAMP_S   0.02

static void
trial_free (gpointer data)
{
  SbTrialResult *trial = data;
  g_free (trial->path);
  sb_trial_facts_unref (trial->facts);
  sb_measures_unref (trial->measures);
  sb_trial_unref (trial->trial);
  g_free (trial);
}

static void
configuration_free (gpointer data)
{
  SbConfigurationResult *configuration = data;
  g_free (configuration->name);
  g_ptr_array_unref (configuration->trials);
  sb_ensemble_unref (configuration->ensemble);
  sb_drive_model_unref (configuration->drive);
  sb_summary_unref (configuration->summary);
  g_free (configuration);
}

static SbAnalysis *
analysis_new (SbBench *bench)
{
  SbAnalysis *analysis = g_new0 (SbAnalysis, 1);
  g_atomic_ref_count_init (&analysis->ref_count);
  analysis->bench = bench;
  analysis->configurations = g_ptr_array_new_with_free_func (configuration_free);
  return analysis;
}

static void
append_cell (GString *csv, double value, char end)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append (csv, g_ascii_formatd (number, sizeof number, "%.9g", value));
  g_string_append_c (csv, end);
}

static SbTrial *
trial_new (const SampleConfiguration *configuration, gsize i)
{
  double middle = ((double) configuration->n_trials - 1) / 2;
  double level_nm = configuration->level_nm + configuration->spread_nm * ((double) i - middle);
  g_autoptr (GString) csv = g_string_new (NULL);
  if (configuration->device != NULL)
    g_string_append_printf (csv, "# device: %s\n", configuration->device);
  if (configuration->setting != NULL)
    g_string_append_printf (csv, "# setting torque slope: %s\n", configuration->setting);
  g_string_append (csv, "time_s,command_Nm,");
  g_string_append (csv, configuration->without_velocity ? "torque_Nm\n" : "velocity_rad_s,torque_Nm\n");
  for (int k = 0; k < N_ROWS; k++) {
    double after_s = k * STEP_S - BEFORE_S;
    append_cell (csv, k * STEP_S, ',');
    append_cell (csv, after_s >= -STEP_S / 2 ? 10 : 0, ',');
    if (!configuration->without_velocity)
      append_cell (csv, after_s > 0 ? 4 * level_nm * after_s : 0, ',');
    append_cell (csv, level_nm * CLAMP (after_s / RAMP_S, 0, 1), '\n');
  }
  g_autofree char *name = g_strdup_printf ("%s-%" G_GSIZE_FORMAT ".csv", configuration->name, i + 1);
  g_autoptr (SbLog) log = sb_log_read_memory (name, csv->str, csv->len, 0, NULL);
  g_assert_nonnull (log);
  SbTrial *trial = sb_trial_new (log, NULL, NULL);
  g_assert_nonnull (trial);
  return trial;
}

static SbMeasures *
empty_measures (void)
{
  SbMeasures *measures = g_new0 (SbMeasures, 1);
  g_atomic_ref_count_init (&measures->ref_count);
  return measures;
}

static SbConfigurationResult *
configuration_new (const SampleConfiguration *configuration, guint style)
{
  SbConfigurationResult *result = g_new0 (SbConfigurationResult, 1);
  result->name = g_strdup (configuration->name);
  result->style = style;
  result->drawn = !configuration->undrawn;
  result->trials = g_ptr_array_new_with_free_func (trial_free);
  result->n_used = configuration->n_trials;
  g_autoptr (GPtrArray) trials = g_ptr_array_new ();
  for (gsize i = 0; i < configuration->n_trials; i++) {
    SbTrialResult *trial = g_new0 (SbTrialResult, 1);
    trial->included = TRUE;
    trial->trial = trial_new (configuration, i);
    trial->path = g_strdup (trial->trial->log->path);
    trial->facts = sb_trial_facts_new (trial->trial);
    trial->measures = empty_measures ();
    g_ptr_array_add (result->trials, trial);
    g_ptr_array_add (trials, trial->trial);
  }
  guint channels = 1u << SB_CHANNEL_TORQUE | 1u << SB_CHANNEL_VELOCITY | 1u << SB_CHANNEL_COMMAND;
  result->ensemble = sb_ensemble_new ((SbTrial *const *) trials->pdata, trials->len, SB_SPAN_COMMON, channels);
  return result;
}

/* The bench has what its results have, and compares what it compared before. */
static void
add_to_bench (SbBench *bench, const SbConfigurationResult *configuration)
{
  int reference = bench->reference, other = bench->other;
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  for (guint t = 0; t < configuration->trials->len; t++)
    g_ptr_array_add (paths, sb_configuration_result_trial (configuration, t)->path);
  sb_bench_add_configuration (bench, configuration->name, (const char *const *) paths->pdata, paths->len);
  bench->reference = reference;
  bench->other = other;
}

SbAnalysis *
sample_analysis_new (SbBench *bench, const SampleConfiguration *configurations, gsize n)
{
  SbAnalysis *analysis = analysis_new (bench);
  for (gsize c = 0; c < n; c++) {
    g_ptr_array_add (analysis->configurations, configuration_new (&configurations[c], (guint) c));
    add_to_bench (bench, sb_analysis_configuration (analysis, (guint) c));
  }
  return analysis;
}

SbMeasure *
sample_measure (SbAnalysis *analysis, guint c, SbMeasureId id)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
  SbTrialResult *trial = g_ptr_array_index (configuration->trials, 0);
  SbMeasure *measure = &trial->measures->measure[id];
  measure->present = TRUE;
  return measure;
}

void
sample_set_figures (SbAnalysis *analysis, guint c, SbMeasureId id, const double *values)
{
  SbConfigurationResult *configuration = g_ptr_array_index (analysis->configurations, c);
  g_autoptr (GPtrArray) counted = g_ptr_array_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (configuration->trials, t);
    SbMeasure *measure = &trial->measures->measure[id];
    measure->present = TRUE;
    measure->value = values[t];
    measure->uncertainty = measure->uncertainty > 0 ? measure->uncertainty : (double) NAN;
    if (trial->included)
      g_ptr_array_add (counted, trial->measures);
  }
  g_clear_pointer (&configuration->summary, sb_summary_unref);
  configuration->summary = sb_summary_new ((SbMeasures *const *) counted->pdata, counted->len, NULL);
}

static void
side_free (gpointer data)
{
  SbClaimSide *side = data;
  g_free (side->name);
  g_free (side);
}

void
sample_state (SbAnalysis *analysis, SbMeasureId id, double value)
{
  SbClaim claim = { .configuration = -1, .measure = id, .relation = SB_CLAIM_AT_LEAST, .value = value };
  SbClaimResult *result = g_new0 (SbClaimResult, 1);
  g_atomic_ref_count_init (&result->ref_count);
  result->claim = sb_claim_copy (&claim);
  result->verdict = SB_CLAIM_REACHED;
  result->sides = g_ptr_array_new_with_free_func (side_free);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    SbClaimSide *side = g_new0 (SbClaimSide, 1);
    side->name = g_strdup (sb_analysis_configuration (analysis, c)->name);
    side->verdict = c == 0 ? SB_CLAIM_REACHED : SB_CLAIM_NOT_REACHED;
    g_ptr_array_add (result->sides, side);
  }
  if (analysis->claims == NULL)
    analysis->claims = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_claim_result_unref);
  g_ptr_array_add (analysis->claims, result);
}

void
sample_set_difference (SbAnalysis *analysis)
{
  static const double difference[] = { 0, 2, 2, 0 }, pointwise[] = { 0.5, 0.5, 0.5, 0.5 }, all[] = { 1, 1, 1, 1 };
  SbDifferenceCurve *curve = g_new0 (SbDifferenceCurve, 1);
  g_atomic_ref_count_init (&curve->ref_count);
  curve->present = TRUE;
  curve->channel = SB_CHANNEL_TORQUE;
  curve->n_reference = curve->n_other = 3;
  curve->step_s = 0.1;
  curve->n_points = G_N_ELEMENTS (difference);
  curve->difference = g_memdup2 (difference, sizeof difference);
  curve->half_pointwise = g_memdup2 (pointwise, sizeof pointwise);
  curve->half_simultaneous = g_memdup2 (all, sizeof all);
  curve->critical = 2;
  curve->stretches = g_array_new (FALSE, FALSE, sizeof (SbDifferenceStretch));
  SbDifferenceStretch stretch
      = { .from_s = 0.1, .to_s = 0.2, .sign = 1, .largest = 2, .at_s = 0.1, .n = 1, .n_beyond = 1 };
  g_array_append_val (curve->stretches, stretch);
  analysis->bench->reference = 0;
  analysis->bench->other = 1;
  analysis->difference[SB_CHANNEL_TORQUE] = curve;
}

SbAnalysis *
sample_analysis_of_curve (double *y, gsize n, gint64 first, double dx, gsize n_trials)
{
  SbAnalysis *analysis = analysis_new (sb_bench_new ());
  SbConfigurationResult *configuration = g_new0 (SbConfigurationResult, 1);
  configuration->name = g_strdup ("Long");
  configuration->drawn = TRUE;
  configuration->trials = g_ptr_array_new ();
  configuration->n_used = n_trials;
  SbEnsemble *ensemble = g_new0 (SbEnsemble, 1);
  g_atomic_ref_count_init (&ensemble->ref_count);
  ensemble->n_trials = n_trials;
  ensemble->grid_step_s = dx;
  ensemble->first = first;
  ensemble->n_points = n;
  SbMeanCurve *curve = g_new0 (SbMeanCurve, 1);
  curve->mean = y;
  curve->sd = g_new0 (double, n);
  curve->lowest = g_memdup2 (y, n * sizeof *y);
  curve->highest = g_memdup2 (y, n * sizeof *y);
  ensemble->curve[SB_CHANNEL_TORQUE] = curve;
  configuration->ensemble = ensemble;
  g_ptr_array_add (analysis->configurations, configuration);
  return analysis;
}
