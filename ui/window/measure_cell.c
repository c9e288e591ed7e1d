/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_cell.h"

#include "doubt.h"
#include "verdict_words.h"

#include <math.h>

#define ABSENT "–"

void
sb_measure_cell_clear (SbMeasureCell *cell)
{
  g_free (cell->value);
  g_free (cell->detail);
  g_free (cell->tooltip);
  *cell = (SbMeasureCell){ 0 };
}

static SbMeasureCell
absent_cell (const char *reason)
{
  return (SbMeasureCell){
    .value = g_strdup (ABSENT),
    .detail = g_strdup (""),
    .tooltip = g_strdup (reason),
    .absent = TRUE,
  };
}

static char *
detail_of_mean (SbMeasureId id, SbUnits units, const SbMeasureSummary *summary, gsize n_used)
{
  g_autoptr (GString) detail = g_string_new (NULL);
  if (!isnan (summary->sd)) {
    g_autofree char *sd = sb_measure_format_in (id, units, summary->sd, summary->sd, FALSE);
    g_string_append_printf (detail, "± %s", sd);
  }
  if (!sb_measure_info (id)->of_configuration && summary->n != n_used)
    g_string_append_printf (detail, "%sn %" G_GSIZE_FORMAT, detail->len > 0 ? ", " : "", summary->n);
  return g_string_free (g_steal_pointer (&detail), FALSE);
}

static char *
tooltip_of_mean (SbMeasureId id, SbUnits units, const SbMeasureSummary *summary)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *mean = sb_measure_format_in (id, units, summary->mean, sb_summary_rounding (summary), TRUE);
  if (sb_measure_info (id)->of_configuration)
    g_string_append_printf (text, "%s, of all repeats together", mean);
  else
    g_string_append_printf (text, "Mean %s over %" G_GSIZE_FORMAT " %s", mean, summary->n,
                            summary->n == 1 ? "trial" : "trials");
  if (!isnan (summary->ci95[0])) {
    g_autofree char *low = sb_measure_format_in (id, units, summary->ci95[0], summary->sd, FALSE);
    g_autofree char *high = sb_measure_format_in (id, units, summary->ci95[1], summary->sd, TRUE);
    g_autofree char *r = sb_measure_format_in (id, units, summary->repeatability, summary->sd, TRUE);
    g_string_append_printf (text, "\n95 %% interval of the mean: %s to %s\nRepeatability (2.8 s): %s", low, high, r);
  }
  if (summary->n_absent > 0)
    g_string_append_printf (text, "\nAbsent in %" G_GSIZE_FORMAT " %s", summary->n_absent,
                            summary->n_absent == 1 ? "trial" : "trials");
  for (guint i = 0; i < sb_doubts_count (summary->doubts); i++) {
    g_autofree char *doubt = sb_doubt_text (sb_doubts_get (summary->doubts, i), units);
    g_string_append_printf (text, "\nDoubt: %s", doubt);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

SbMeasureCell
sb_measure_cell_mean (const SbConfigurationResult *configuration, SbMeasureId id, SbUnits units)
{
  if (configuration->summary == NULL)
    return absent_cell ("No trial of this configuration is included and usable.");
  const SbMeasureSummary *summary = &configuration->summary->measure[id];
  if (!summary->present)
    return absent_cell (summary->absent_reason);
  return (SbMeasureCell){
    .value = sb_measure_format_in (id, units, summary->mean, sb_summary_rounding (summary), FALSE),
    .detail = detail_of_mean (id, units, summary, configuration->n_used),
    .tooltip = tooltip_of_mean (id, units, summary),
    .doubt = summary->doubts != NULL && summary->doubts->len > 0,
  };
}

/* What is compared, or why nothing is. */
static const SbMeasureComparison *
compared (const SbComparison *comparison, SbMeasureId id, const char **reason)
{
  if (comparison == NULL) {
    *reason = "Choose a reference and another configuration to compare.";
    return NULL;
  }
  if (!comparison->measure[id].present) {
    *reason = comparison->measure[id].absent_reason;
    return NULL;
  }
  return &comparison->measure[id];
}

SbMeasureCell
sb_measure_cell_difference (const SbComparison *comparison, SbMeasureId id, SbUnits units)
{
  const char *reason = NULL;
  const SbMeasureComparison *measure = compared (comparison, id, &reason);
  if (measure == NULL)
    return absent_cell (reason);
  const SbWelch *welch = &measure->welch;
  double rounding = sb_interval_rounding (welch->ci95);
  g_autofree char *low = sb_measure_format_change (id, units, welch->ci95[0], rounding, FALSE);
  g_autofree char *high = sb_measure_format_change (id, units, welch->ci95[1], rounding, FALSE);
  g_autofree char *difference = sb_measure_format_change (id, units, welch->difference, rounding, TRUE);
  return (SbMeasureCell){
    .value = sb_measure_format_change (id, units, welch->difference, rounding, FALSE),
    .detail = g_strdup_printf ("%s to %s", low, high),
    .tooltip = g_strdup_printf ("Other minus reference: %s\n95 %% interval (Welch): %s to %s\nHedges' g %.2f",
                                difference, low, high, measure->hedges_g),
  };
}

static char *
format_p (double p)
{
  return p < 0.001 ? g_strdup ("p < 0.001") : g_strdup_printf ("p = %.3f", p);
}

SbMeasureCell
sb_measure_cell_verdict (const SbComparison *comparison, SbMeasureId id, const SbBench *bench)
{
  const char *reason = NULL;
  const SbMeasureComparison *measure = compared (comparison, id, &reason);
  if (measure == NULL)
    return absent_cell (reason);
  g_autofree char *corrected = format_p (measure->p_holm);
  g_autofree char *raw = format_p (measure->welch.p);
  g_autofree char *margin = sb_measure_format_in (id, bench->units, measure->margin, NAN, TRUE);
  return (SbMeasureCell){
    .value
    = g_strconcat (sb_bench_word (bench, sb_verdict_words (measure->verdict)), measure->doubted ? " ?" : "", NULL),
    .detail = g_strdup (corrected),
    .tooltip = g_strdup_printf (
        "Welch's two-sided test: t = %.2f, %.1f degrees of freedom, %s;\nafter Holm's correction over "
        "the %" G_GSIZE_FORMAT " measure%s compared: %s; level %.4g.\nPractically equal means within ± %s, "
        "whatever p.%s%s",
        measure->welch.t, measure->welch.df, raw, comparison->n_compared, comparison->n_compared == 1 ? "" : "s",
        corrected, comparison->level, margin, measure->doubt != NULL ? "\nDoubt: " : "",
        measure->doubt != NULL ? measure->doubt : ""),
  };
}
