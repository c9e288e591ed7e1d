/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pair_cards.h"

#include "judgement_card.h"
#include "fairness.h"
#include "pair_verdict.h"
#include "results_cells.h"
#include "results_pair.h"

#include <math.h>

/* "Peak torque differs: 0.912 N·m, 95 % interval 0.832 to 0.992, p < 0.001 after Holm" */
static char *
measure_sentence (SbMeasureId id, const SbBench *bench, const SbMeasureComparison *measure)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  char *cells[SB_COMPARISON_CELLS];
  sb_comparison_cells (id, bench, measure, cells);
  const char *unit = sb_measure_shown_unit (id, bench->units).name;
  gboolean bare = g_str_equal (unit, "1"), small = cells[2][0] == '<';
  char *sentence
      = g_strdup_printf ("%s %s: %s%s%s, 95 %% interval %s, p%s%s after Holm", info->name, cells[3], cells[0],
                         bare ? "" : " ", bare ? "" : unit, cells[1], small ? " " : " = ", cells[2]);
  for (int i = 0; i < SB_COMPARISON_CELLS; i++)
    g_free (cells[i]);
  return sentence;
}

static void
add_verdicts (SbJudgementCard *card, const SbAnalysis *analysis, SbVerdict verdict)
{
  const SbComparison *comparison = analysis->comparison;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureComparison *measure = &comparison->measure[m];
    if (!measure->present || measure->verdict != verdict)
      continue;
    g_autofree char *sentence = measure_sentence ((SbMeasureId) m, analysis->bench, measure);
    sb_judgement_card_add (card, NULL, sentence);
    if (verdict != SB_VERDICT_UNDECIDED)
      continue;
    g_autofree char *more = sb_settle_words (analysis, (SbMeasureId) m);
    sb_judgement_card_add (card, "To settle it", more);
  }
}

static GtkWidget *
make_measures_card (const SbAnalysis *analysis)
{
  const SbComparison *comparison = analysis->comparison;
  g_autofree char *heading
      = g_strdup_printf ("%s against %s", sb_analysis_configuration (analysis, (guint) analysis->bench->other)->name,
                         sb_analysis_configuration (analysis, (guint) analysis->bench->reference)->name);
  g_autofree char *verdict = sb_pair_verdict_words (analysis->bench, comparison);
  GtkWidget *card = sb_judgement_card_new (heading, sb_pair_mark (comparison), verdict);
  g_autoptr (GPtrArray) why_not = sb_pair_why_not_compared (comparison);
  for (guint i = 0; i < why_not->len; i++)
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), NULL, g_ptr_array_index (why_not, i));
  add_verdicts (SB_JUDGEMENT_CARD (card), analysis, SB_VERDICT_DIFFERS);
  add_verdicts (SB_JUDGEMENT_CARD (card), analysis, SB_VERDICT_UNDECIDED);
  add_verdicts (SB_JUDGEMENT_CARD (card), analysis, SB_VERDICT_PRACTICALLY_EQUAL);
  for (guint i = 0; i < comparison->fairness->len; i++) {
    const SbFairness *fairness = g_ptr_array_index (comparison->fairness, i);
    g_autofree char *sentence = sb_fairness_text (fairness);
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), sb_fairness_heading (fairness), sentence);
  }
  return card;
}

/* The time in ms, the difference with its unit. */
static char *
stretch_sentence (const SbDifferenceCurve *curve, SbUnits units, const SbDifferenceStretch *stretch)
{
  SbShownUnit unit = sb_channel_shown_unit (curve->channel, units);
  gsize k = (gsize) llround (stretch->at_s / curve->step_s - (double) curve->first);
  g_autofree char *size
      = sb_number_format (fabs (stretch->largest) * unit.factor, curve->half_simultaneous[k] * unit.factor);
  g_autofree char *share = sb_stretch_share_words (stretch);
  if (!(stretch->to_s > stretch->from_s))
    return sb_plain_sentence (g_strdup_printf ("At %.1f ms after the onset it lies %s, by %s %s", 1e3 * stretch->from_s,
                                               stretch->sign > 0 ? "above" : "below", size, unit.name));
  return sb_plain_sentence (g_strdup_printf (
      "%.1f to %.1f ms after the onset it lies %s%s, by up to %s %s at %.1f ms", 1e3 * stretch->from_s,
      1e3 * stretch->to_s, stretch->sign > 0 ? "above" : "below", share, size, unit.name, 1e3 * stretch->at_s));
}

static GtkWidget *
make_curve_card (const SbDifferenceCurve *curve, SbUnits units)
{
  const char *heading = curve->channel == SB_CHANNEL_TORQUE ? "Torque over time" : "Velocity over time";
  if (!curve->present) {
    GtkWidget *card = sb_judgement_card_new (heading, SB_MARK_OPEN, SB_NOT_COMPARED);
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), NULL, curve->absent_reason);
    return card;
  }
  guint n = curve->stretches->len;
  g_autofree char *verdict = n > 0 ? g_strdup_printf ("apart over %u %s of time", n, n == 1 ? "stretch" : "stretches")
                                   : g_strdup ("nowhere apart with certainty");
  GtkWidget *card = sb_judgement_card_new (heading, n > 0 ? SB_MARK_DIFFER : SB_MARK_OPEN, verdict);
  sb_judgement_card_list_stretches (SB_JUDGEMENT_CARD (card), n);
  for (guint i = 0; i < n; i++) {
    if (!sb_difference_stretch_is_large (curve, i, SB_STRETCHES_LISTED, -INFINITY, INFINITY))
      continue;
    g_autofree char *sentence
        = stretch_sentence (curve, units, &g_array_index (curve->stretches, SbDifferenceStretch, i));
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), NULL, sentence);
  }
  g_autofree char *others = sb_smaller_stretches_words (n, SB_STRETCHES_LISTED);
  if (others != NULL)
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), "And", others);
  return card;
}

GPtrArray *
sb_pair_cards_new (const SbAnalysis *analysis)
{
  GPtrArray *cards = g_ptr_array_new ();
  if (analysis->comparison == NULL)
    return cards;
  g_ptr_array_add (cards, make_measures_card (analysis));
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (analysis->difference[c] != NULL)
      g_ptr_array_add (cards, make_curve_card (analysis->difference[c], analysis->bench->units));
  return cards;
}
