/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How one figure was come by, trial by trial. All wording of the measure itself is that of the measures table. */
#include "results.h"

#include "doubt.h"

#include <math.h>
#include <string.h>

/* A bias below this share of the uncertainty says nothing. */
#define BIAS_OF_UNCERTAINTY 0.1

static const char *
evidence_words (SbEvidenceKind kind)
{
  static const char *const words[] = {
    [SB_EVIDENCE_PEAK] = "extremum", [SB_EVIDENCE_CROSSING] = "crossing", [SB_EVIDENCE_TANGENT] = "tangent",
    [SB_EVIDENCE_LEVEL] = "level",   [SB_EVIDENCE_CREST] = "crest",
  };
  return words[kind];
}

/* Without the marks of emphasis that the documents have. */
static void
append_plain (GString *text, const char *label, const char *sentence)
{
  g_string_append_printf (text, "%s: ", label);
  for (const char *c = sentence; *c != '\0'; c++)
    if (*c != '*')
      g_string_append_c (text, *c);
  g_string_append_c (text, '\n');
}

static void
append_heading (GString *text, SbMeasureId id, SbUnits units)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  const char *shown = sb_measure_shown_unit (id, units).name;
  g_string_append_printf (text, "%s (%s), symbol %s, ", info->name, info->key, info->symbol);
  if (strcmp (info->unit, "1") != 0)
    g_string_append_printf (text, "in %s, shown in %s\n", info->unit, shown);
  else if (strcmp (shown, "1") != 0)
    g_string_append_printf (text, "a ratio, shown in %s\n", shown);
  else
    g_string_append (text, "a number without unit\n");
  append_plain (text, "Definition", info->definition);
  append_plain (text, "Formula", info->formula);
  append_plain (text, "Standard uncertainty", info->uncertainty);
  append_plain (text, "Limits", info->limits);
  append_plain (text, "Source", info->source);
}

/* The levels and crossings that the torque's measures rest on. */
static void
append_transition (GString *text, const SbTransition *transition)
{
  if (!transition->has_torque_step)
    return;
  const char *kind = transition->ringing_left_nm > 0 ? "middle of the ringing"
                     : transition->plateau           ? "plateau"
                                                     : "mean of the last quarter";
  g_string_append_printf (text, "  Levels: base %.6g N·m, top %.6g N·m (%s), noise %.3g N·m", transition->base_nm,
                          transition->top_nm, kind, transition->noise_nm);
  if (isfinite (transition->noise_lag1))
    g_string_append_printf (text, " with a lag-1 autocorrelation of %.2f", transition->noise_lag1);
  g_string_append_c (text, '\n');
  const double at_s[] = { transition->t10_s, transition->t50_s, transition->t90_s };
  static const int percent[] = { 10, 50, 90 };
  for (gsize k = 0; k < 3; k++) {
    gsize n = transition->crossing[k].n_points;
    g_string_append_printf (text, "  Crossing of %d %%: %.6g ± %.2g ms, ", percent[k], 1e3 * at_s[k],
                            1e3 * transition->crossing[k].uncertainty_s);
    if (n > 2)
      g_string_append_printf (text, "where the line through %" G_GSIZE_FORMAT " samples meets the level\n", n);
    else
      g_string_append (text, "linear between two samples\n");
  }
  g_string_append_printf (text, "  Samples from 10 %% to 90 %%: %" G_GSIZE_FORMAT "\n", transition->n_rise);
}

static void
append_slope_window (GString *text, SbUnits units, const SbTransition *transition, double interval_s)
{
  SbShownUnit shown = sb_measure_shown_unit (SB_MEASURE_PEAK_TORQUE_SLOPE, units);
  gsize n = 2 * transition->slope_half + 1;
  g_string_append_printf (text, "  Slope window: %" G_GSIZE_FORMAT " samples to each local quadratic, %.4g ms", n,
                          1e3 * (double) (n - 1) * interval_s);
  if (isfinite (transition->slope_floor_nm_per_s))
    g_string_append_printf (text, "; the noise leaves slopes of ± %.3g %s",
                            transition->slope_floor_nm_per_s * shown.factor, shown.name);
  g_string_append_c (text, '\n');
}

static void
append_settling (GString *text, const SbTransition *transition)
{
  g_string_append_printf (text, "  Band: ± %.4g N·m about the top; ", transition->settling_band_nm);
  if (transition->settling_half > 0)
    g_string_append_printf (text, "judged on a local mean over %" G_GSIZE_FORMAT " samples\n",
                            2 * transition->settling_half + 1);
  else
    g_string_append (text, "judged on the samples themselves\n");
}

static void
append_ringing (GString *text, SbUnits units, const SbRinging *ringing)
{
  SbShownUnit shown = sb_channel_shown_unit (ringing->channel, units);
  const char *unit = shown.name;
  if (ringing->ringing_class == SB_RINGING_UNKNOWN)
    return;
  g_string_append_printf (text, "  Ringing window: %.6g to %.6g ms; level %.6g %s, noise floor %.3g %s\n",
                          1e3 * ringing->window_s[0], 1e3 * ringing->window_s[1], shown.factor * ringing->level_nm,
                          unit, shown.factor * ringing->floor_nm, unit);
  for (gsize m = 0; m < ringing->n_modes; m++) {
    const SbMode *mode = &ringing->mode[m];
    g_string_append_printf (text,
                            "  Mode %" G_GSIZE_FORMAT
                            ": %.6g ± %.2g Hz, damping ratio %.4g ± %.2g, amplitude %.4g %s, decay %.4g 1/s\n",
                            m + 1, mode->frequency_hz, mode->frequency_sd_hz, mode->damping_ratio,
                            mode->damping_ratio_sd, shown.factor * mode->amplitude, unit, mode->decay_per_s);
  }
  if (ringing->rest_decay_per_s > 0)
    g_string_append_printf (text, "  Beside them, left of the rise: %.4g %s, decay %.4g 1/s\n",
                            shown.factor * ringing->rest_nm, unit, ringing->rest_decay_per_s);
}

/* The noise that its figures are propagated from, and what the rise is counted to. */
static void
append_velocity (GString *text, SbMeasureId id, SbUnits units, const SbMeasures *measures)
{
  SbShownUnit shown = sb_channel_shown_unit (SB_CHANNEL_VELOCITY, units);
  const SbMeasure *peak = &measures->measure[SB_MEASURE_PEAK_VELOCITY];
  if (measures->velocity_noise_rad_s > 0)
    g_string_append_printf (text, "  Noise before the onset: %.3g %s\n", shown.factor * measures->velocity_noise_rad_s,
                            shown.name);
  if (id == SB_MEASURE_VELOCITY_RISE_TIME && peak->present)
    g_string_append_printf (text, "  Level: %.6g %s, 90 %% of the peak of %.6g %s\n", 0.9 * shown.factor * peak->value,
                            shown.name, shown.factor * peak->value, shown.name);
}

static gboolean
is_of_ringing (SbMeasureId id)
{
  return g_str_has_prefix (sb_measure_info (id)->key, "ringing_");
}

static void
append_points (GString *text, const SbMeasure *measure, SbShownUnit unit)
{
  for (gsize i = 0; i < measure->n_evidence; i++) {
    const SbEvidence *point = &measure->evidence[i];
    g_string_append_printf (text, "  Point: %s at %.6g ms, %.6g %s", evidence_words (point->kind), 1e3 * point->t_s,
                            unit.factor * point->y, unit.name);
    if (point->kind == SB_EVIDENCE_TANGENT)
      g_string_append_printf (text, ", slope %.6g %s/s", unit.factor * point->slope_per_s, unit.name);
    g_string_append_c (text, '\n');
  }
}

static void
append_value (GString *text, SbMeasureId id, SbUnits units, const SbMeasure *measure)
{
  g_autofree char *value = sb_measure_format_in (id, units, measure->value, measure->uncertainty, TRUE);
  g_string_append_printf (text, "  Value: %s", value);
  if (isfinite (measure->uncertainty)) {
    g_autofree char *uncertainty = sb_measure_format_in (id, units, measure->uncertainty, measure->uncertainty, TRUE);
    g_string_append_printf (text, ", standard uncertainty %s", uncertainty);
  } else if (measure->no_uncertainty != NULL) {
    g_string_append_printf (text, ", no standard uncertainty: %s", measure->no_uncertainty);
  }
  if (fabs (measure->bias) > BIAS_OF_UNCERTAINTY * measure->uncertainty) {
    g_autofree char *bias = sb_measure_format_in (id, units, fabs (measure->bias), measure->bias, TRUE);
    g_string_append_printf (text, ", %s by noise by about %s", measure->bias > 0 ? "raised" : "lowered", bias);
  }
  g_string_append_c (text, '\n');
}

static void
append_window (GString *text, const SbTrialFacts *facts, const SbMeasure *measure)
{
  double length_s = measure->window_s[1] - measure->window_s[0];
  g_string_append_printf (
      text, "  Window: %.6g to %.6g ms after the onset, %.0f intervals of %.6g ms; onset at %.6g s of the log, from %s",
      1e3 * measure->window_s[0], 1e3 * measure->window_s[1], floor (length_s / facts->sample_interval_s + 0.5),
      1e3 * facts->sample_interval_s, facts->onset_s, sb_onset_from_key (facts->onset_from));
  if (facts->onset_uncertainty_s > 0)
    g_string_append_printf (text, ", ± %.2g ms", 1e3 * facts->onset_uncertainty_s);
  g_string_append_c (text, '\n');
}

static void
append_intermediate (GString *text, const SbTrialResult *trial, SbMeasureId id, SbUnits units)
{
  const SbMeasures *measures = trial->measures;
  if (sb_measure_info (id)->channel == SB_CHANNEL_TORQUE)
    append_transition (text, &measures->transition);
  if (id == SB_MEASURE_PEAK_TORQUE_SLOPE || id == SB_MEASURE_TORQUE_SMOOTHNESS)
    append_slope_window (text, units, &measures->transition, trial->facts->sample_interval_s);
  if (id == SB_MEASURE_SETTLING_TIME)
    append_settling (text, &measures->transition);
  if (sb_measure_info (id)->channel == SB_CHANNEL_VELOCITY)
    append_velocity (text, id, units, measures);
  if (is_of_ringing (id))
    append_ringing (text, units, &measures->ringing);
  if (id == SB_MEASURE_RINGING_AMPLITUDE)
    g_string_append_printf (text, "  Root mean square about the level: %.6g N·m, the floor in it\n",
                            measures->ringing.rms_nm);
  if (id == SB_MEASURE_TORQUE_SMOOTHNESS)
    g_string_append_printf (text, "  Cut-off: %.6g Hz\n", measures->smoothness_cutoff_hz);
}

static void
append_doubts (GString *text, const GPtrArray *doubts, SbUnits units)
{
  for (guint i = 0; i < sb_doubts_count (doubts); i++) {
    g_autofree char *doubt = sb_doubt_text (sb_doubts_get (doubts, i), units);
    g_string_append_printf (text, "  Doubt: %s\n", doubt);
  }
}

static void
append_trial (GString *text, const SbTrialResult *trial, SbMeasureId id, SbUnits units)
{
  const SbMeasure *measure = &trial->measures->measure[id];
  if (!measure->present) {
    g_string_append_printf (text, "  Absent: %s\n", measure->absent_reason);
    return;
  }
  SbChannel channel = sb_measures_channel (trial->measures, id);
  append_value (text, id, units, measure);
  append_window (text, trial->facts, measure);
  append_intermediate (text, trial, id, units);
  append_points (text, measure, sb_channel_shown_unit (channel, units));
  append_doubts (text, measure->doubts, units);
}

/* Numbers in plain form; names, which may look like numbers, are not among them. */
static void
append_figures (GString *text, const SbTrialResult *trial, SbMeasureId id, SbUnits units)
{
  GString *figures = g_string_new (NULL);
  append_trial (figures, trial, id, units);
  g_autofree char *plain = sb_plain_sentence (g_string_free (figures, FALSE));
  g_string_append (text, plain);
}

/* Those of a lone repeat stand below, with its figures. */
static void
append_doubts_together (GString *text, const SbMeasureSummary *summary, SbMeasureId id, SbUnits units)
{
  gboolean lone = summary->n + summary->n_absent == 1 && !sb_measure_info (id)->of_configuration;
  if (!lone)
    append_doubts (text, summary->doubts, units);
}

static void
append_summary (GString *text, const SbConfigurationResult *configuration, SbMeasureId id, SbUnits units)
{
  const SbMeasureSummary *summary = &configuration->summary->measure[id];
  if (!summary->present) {
    g_string_append_printf (text, "\n%s\n  Absent: %s\n", configuration->name, summary->absent_reason);
    return;
  }
  double spread = sb_summary_rounding (summary);
  g_autofree char *mean = sb_measure_format_in (id, units, summary->mean, spread, TRUE);
  if (sb_measure_info (id)->of_configuration && configuration->ensemble != NULL) {
    g_string_append_printf (text,
                            "\n%s\n  Value: %s, of %" G_GSIZE_FORMAT " repeats together\n"
                            "  Window: 0 to %.6g ms after the onset, on a grid of %.6g ms\n",
                            configuration->name, mean, summary->n, 1e3 * configuration->ensemble->active_end_s,
                            1e3 * configuration->ensemble->grid_step_s);
    append_doubts_together (text, summary, id, units);
    return;
  }
  g_string_append_printf (text, "\n%s\n  Mean of %" G_GSIZE_FORMAT ": %s", configuration->name, summary->n, mean);
  if (isfinite (summary->sd)) {
    g_autofree char *sd = sb_measure_format_in (id, units, summary->sd, spread, TRUE);
    g_autofree char *u = sb_measure_format_in (id, units, summary->standard_uncertainty, spread, TRUE);
    g_autofree char *r = sb_measure_format_in (id, units, summary->repeatability, spread, TRUE);
    g_string_append_printf (text, ", standard deviation %s, standard uncertainty of the mean %s, repeatability %s", sd,
                            u, r);
    if (isfinite (summary->lag1))
      g_string_append_printf (text, "; lag-1 autocorrelation of the repeats in their order %.2f", summary->lag1);
  }
  g_string_append_c (text, '\n');
  append_doubts_together (text, summary, id, units);
}

char *
sb_results_explain (const SbAnalysis *analysis, SbMeasureId id)
{
  GString *text = g_string_new (NULL);
  append_heading (text, id, analysis->bench->units);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->summary == NULL)
      continue;
    append_summary (text, configuration, id, analysis->bench->units);
    for (guint t = 0; t < configuration->trials->len && !sb_measure_info (id)->of_configuration; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (!trial->included || trial->measures == NULL || trial->facts == NULL)
        continue;
      g_autofree char *label = sb_trial_result_label (trial);
      g_string_append_printf (text, "\n%s, %s\n", configuration->name, label);
      append_figures (text, trial, id, analysis->bench->units);
    }
  }
  return g_string_free (text, FALSE);
}
