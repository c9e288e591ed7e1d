/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_cells.h"

#include "verdict_words.h"

#include <math.h>

const char *const sb_comparison_headings[SB_COMPARISON_CELLS]
    = { "Difference", "95 % interval", "p (Holm)", "Verdict" };

/* No repeat is without scatter: where the log's steps hide all of it, it is less than one of them. */
static char *
scatter_text (SbMeasureId id, SbUnits units, const SbMeasureSummary *measure, double spread)
{
  if (measure->sd > 1e-12 * fabs (measure->mean) || !(measure->resolution > 0))
    return sb_measure_format_in (id, units, measure->sd, spread, FALSE);
  double step = sqrt (12) * measure->resolution;
  g_autofree char *less = sb_measure_format_in (id, units, step, step, FALSE);
  return g_strconcat ("< ", less, NULL);
}

char *
sb_summary_cell (SbMeasureId id, SbUnits units, const SbMeasureSummary *measure)
{
  if (!measure->present)
    return g_strdup ("–");
  double spread = sb_summary_rounding (measure);
  g_autofree char *mean = sb_measure_format_in (id, units, measure->mean, spread, FALSE);
  g_autofree char *sd = scatter_text (id, units, measure, spread);
  g_autofree char *n
      = measure->n_absent > 0 ? g_strdup_printf (" (n = %" G_GSIZE_FORMAT ")", measure->n) : g_strdup ("");
  gboolean doubted = measure->doubts != NULL && measure->doubts->len > 0;
  return g_strconcat (mean, isfinite (measure->sd) ? " ± " : "", isfinite (measure->sd) ? sd : "", n,
                      doubted ? " ?" : "", NULL);
}

static char *
p_text (double p)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup (p < 0.001 ? "< 0.001" : g_ascii_formatd (text, sizeof text, "%.3f", p));
}

void
sb_comparison_cells (SbMeasureId id, const SbBench *bench, const SbMeasureComparison *measure,
                     char *cells[SB_COMPARISON_CELLS])
{
  if (!measure->present) {
    for (gsize i = 0; i < SB_COMPARISON_CELLS; i++)
      cells[i] = g_strdup ("–");
    return;
  }
  const SbWelch *welch = &measure->welch;
  double half = sb_interval_rounding (welch->ci95);
  g_autofree char *low = sb_measure_format_change (id, bench->units, welch->ci95[0], half, FALSE);
  g_autofree char *high = sb_measure_format_change (id, bench->units, welch->ci95[1], half, FALSE);
  cells[0] = sb_measure_format_change (id, bench->units, welch->difference, half, FALSE);
  cells[1] = g_strdup_printf ("%s to %s", low, high);
  cells[2] = p_text (measure->p_holm);
  cells[3]
      = g_strconcat (sb_bench_word (bench, sb_verdict_words (measure->verdict)), measure->doubted ? " ?" : "", NULL);
}
