/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_pair.h"

#include "analysis_plan.h"
#include "json_members.h"
#include "power.h"
#include "verdict_words.h"

#include <math.h>

static const char *
name_of (const SbAnalysis *analysis, int index)
{
  return sb_analysis_configuration (analysis, (guint) index)->name;
}

/* ", 5 more for Fern and 3 more for Moss"; of numbers that are there already, that. */
static void
append_more (GString *text, const SbAnalysis *analysis, const gsize n_now[2], gsize n)
{
  const int sides[2] = { analysis->bench->reference, analysis->bench->other };
  const char *joint = ", ";
  for (int i = 0; i < 2; i++) {
    if (n <= n_now[i])
      continue;
    g_string_append_printf (text, "%s%" G_GSIZE_FORMAT " more for %s", joint, n - n_now[i],
                            name_of (analysis, sides[i]));
    joint = " and ";
  }
  if (n <= MIN (n_now[0], n_now[1]))
    g_string_append (text, ", which are there already: a series of its own would decide");
}

static gboolean
is_practical (gsize n)
{
  return n > 0 && n <= SB_MOST_PRACTICAL_REPEATS;
}

/* " (beside the 50 of Moss 12 would do, 9 more for Fern)": of sides with unequal repeats, where that is
 * fewer than `n_either` on both. */
static void
append_beside (GString *text, const SbAnalysis *analysis, const gsize n_now[2], gsize n, gsize n_either)
{
  const int sides[2] = { analysis->bench->reference, analysis->bench->other };
  int fewer = n_now[0] < n_now[1] ? 0 : 1;
  if (is_practical (n) && n > n_now[fewer] && (n < n_either || n_either == 0))
    g_string_append_printf (
        text, " (beside the %" G_GSIZE_FORMAT " of %s %" G_GSIZE_FORMAT " would do, %" G_GSIZE_FORMAT " more for %s)",
        n_now[1 - fewer], name_of (analysis, sides[1 - fewer]), n, n - n_now[fewer], name_of (analysis, sides[fewer]));
}

/* Of measures in %, which a bare "%" would leave open, with what it is a share of. (transfer full) */
static char *
absolute_margin_words (SbMeasureId id, SbUnits units, double margin)
{
  g_autofree char *words = sb_measure_format_in (id, units, margin, NAN, TRUE);
  return g_strconcat (words, g_str_equal (sb_measure_shown_unit (id, units).name, "%") ? " of the step" : "", NULL);
}

gboolean
sb_is_open_by_crests (const SbMeasureComparison *measure)
{
  return measure->within_noise && fabs (measure->welch.difference) <= measure->by_crests;
}

/* What keeps it undecided, however many repeats there are; NULL: more of them settle it. (transfer full) */
static char *
beyond_repeats_words (const SbMeasureComparison *measure, SbMeasureId id, SbUnits units)
{
  if (measure->of_two_ways)
    return g_strdup (
        "a side's repeats that step up and those that step down differ: one way in a configuration of its own "
        "would tell, not more repeats of both");
  if (measure->drifts)
    return g_strdup ("its repeats drift from the first to the last: more of them settle nothing while they do");
  if (measure->unit_doubted)
    return g_strdup ("on one side another signal speaks against the unit that it is in: a layout that states the units "
                     "would tell, not more repeats");
  if (measure->cut_off)
    return g_strdup ("on a side the sensor looks to be at the end of its range, and what lies beyond it may differ: a "
                     "sensor, or an input, with a larger range would tell, not more repeats");
  if (measure->within_steps) {
    g_autofree char *by = sb_measure_format_in (id, units, measure->by_steps, measure->by_steps, TRUE);
    return g_strdup_printf (
        "the steps that it is logged in leave ± %s of the difference unknown: a finer input, or more "
        "digits, would tell, not more repeats",
        by);
  }
  if (measure->in_noise)
    return g_strdup ("on neither side does it stand above the noise, which is all that may differ: less noise would "
                     "tell, not more repeats");
  if (measure->within_sampling) {
    const double *beyond = measure->by_late_onsets;
    g_autofree char *low = sb_measure_format_in (id, units, beyond[0], NAN, FALSE);
    g_autofree char *high = sb_measure_format_in (id, units, beyond[1], NAN, TRUE);
    return g_strdup_printf ("sampling may account for it: the commands jump somewhere in their sample intervals, so "
                            "that the true difference lies %s to %s beside the one found: a higher sample "
                            "rate would tell, not more repeats",
                            low, high);
  }
  if (sb_is_open_by_crests (measure))
    return g_strdup (id == SB_MEASURE_RINGING_CYCLES
                         ? "it counts the crests that stand above the noise, and one side's noise may hide as many as "
                           "the sides differ by: less noise would tell, not more repeats"
                         : "noise decides at which crest it is read, and these lie as far apart as the sides do: less "
                           "noise would tell, not more repeats");
  if (!measure->within_noise)
    return NULL;
  g_autofree char *noise = sb_measure_format_in (id, units, measure->by_noise, NAN, TRUE);
  return g_strdup_printf ("noise may account for %s of the difference: less noise would tell, not more repeats", noise);
}

/* "14 repeats on either side would show a difference as large as the one found, 5 more for Fern" */
static void
append_difference (GString *text, const SbAnalysis *analysis, const SbMeasureComparison *measure)
{
  const SbSettle *settle = &measure->settle;
  if (is_practical (settle->n_differs)) {
    g_string_append_printf (
        text, "%" G_GSIZE_FORMAT " repeats on either side would show a difference as large as the one found",
        settle->n_differs);
    append_more (text, analysis, measure->n, settle->n_differs);
  } else if (settle->noise_hides) {
    g_string_append (text,
                     "no number of repeats would show a difference, since noise may account for as much: less noise "
                     "would");
  } else if (settle->sampling_hides) {
    g_string_append (text, "no number of repeats would show a difference, since where in their sample intervals the "
                           "commands jump may account for as much: a higher sample rate would");
  } else {
    g_string_append_printf (text,
                            "no practical number of repeats (up to %d on either side) would show a difference as small "
                            "as the one found",
                            SB_MOST_PRACTICAL_REPEATS);
  }
  append_beside (text, analysis, measure->n, settle->n_differs_beside, settle->n_differs);
}

/* "; 20 would show equality within ± 0.5 ms, 11 more for Fern" */
static void
append_equality (GString *text, const SbAnalysis *analysis, const SbMeasureComparison *measure, const char *margin)
{
  const SbSettle *settle = &measure->settle;
  if (is_practical (settle->n_equal)) {
    g_string_append_printf (text, "; %" G_GSIZE_FORMAT " would show equality within ± %s", settle->n_equal, margin);
    append_more (text, analysis, measure->n, settle->n_equal);
    append_beside (text, analysis, measure->n, settle->n_equal_beside, settle->n_equal);
  } else if (!(fabs (measure->welch.difference) < measure->margin)) {
    g_string_append_printf (text, "; equality within ± %s cannot be shown while the difference is as large as that",
                            margin);
  } else {
    g_string_append_printf (text, "; no practical number (up to %d) would show equality within ± %s",
                            SB_MOST_PRACTICAL_REPEATS, margin);
  }
}

char *
sb_settle_words (const SbAnalysis *analysis, SbMeasureId id)
{
  const SbMeasureComparison *measure = &analysis->comparison->measure[id];
  char *beyond_repeats = beyond_repeats_words (measure, id, analysis->bench->units);
  if (beyond_repeats != NULL)
    return beyond_repeats;
  g_autofree char *margin = absolute_margin_words (id, analysis->bench->units, measure->margin);
  GString *text = g_string_new (NULL);
  append_difference (text, analysis, measure);
  append_equality (text, analysis, measure, margin);
  return g_string_free (text, FALSE);
}

static void
build_number (JsonBuilder *builder, const char *name, gsize n)
{
  if (n > 0)
    sb_json_add_integer (builder, name, (gint64) n);
}

void
sb_settle_build (JsonBuilder *builder, const SbAnalysis *analysis, SbMeasureId id)
{
  const SbMeasureComparison *measure = &analysis->comparison->measure[id];
  if (!measure->present || measure->verdict != SB_VERDICT_UNDECIDED)
    return;
  g_autofree char *words = sb_settle_words (analysis, id);
  sb_json_begin (builder, "to_settle");
  sb_json_add_number (builder, "power", SB_SETTLE_POWER);
  build_number (builder, "n_differs", measure->settle.n_differs);
  build_number (builder, "n_equal", measure->settle.n_equal);
  sb_json_add_string (builder, "words", words);
  json_builder_end_object (builder);
}

char *
sb_settle_text (const SbAnalysis *analysis)
{
  GString *text = g_string_new (NULL);
  for (int m = 0; analysis->comparison != NULL && m < SB_N_MEASURES; m++) {
    const SbMeasureComparison *measure = &analysis->comparison->measure[m];
    if (!measure->present || measure->verdict != SB_VERDICT_UNDECIDED)
      continue;
    if (text->len == 0) {
      const char *usual = sb_verdict_words (SB_VERDICT_UNDECIDED), *word = sb_bench_word (analysis->bench, usual);
      g_string_append_printf (text,
                              "\n%s, and what would settle it (power 80 %%, at the scatter found; a difference at the "
                              "level %.4g shared by %" G_GSIZE_FORMAT " measure%s, equality at %.4g each):\n",
                              word == usual ? "Undecided" : word, analysis->comparison->level,
                              analysis->comparison->n_compared, analysis->comparison->n_compared == 1 ? "" : "s",
                              analysis->comparison->level);
    }
    g_autofree char *words = sb_settle_words (analysis, (SbMeasureId) m);
    g_string_append_printf (text, "  %s: %s.\n", sb_measure_info ((SbMeasureId) m)->name, words);
  }
  return g_string_free (text, FALSE);
}

char *
sb_margins_words (const SbBench *bench, const char *mean)
{
  GString *text = g_string_new (NULL);
  const char *joint = " (";
  g_string_append_printf (text, "± %.4g %% of %s", 100 * bench->margin_ratio, mean);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMargin *margin = &bench->margin[m];
    if (isnan (margin->ratio) && isnan (margin->absolute))
      continue;
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) m)->name, -1);
    g_autofree char *absolute = absolute_margin_words ((SbMeasureId) m, bench->units, margin->absolute);
    if (isnan (margin->absolute))
      g_string_append_printf (text, "%s%s: ± %.4g %%", joint, name, 100 * margin->ratio);
    else
      g_string_append_printf (text, "%s%s: ± %s", joint, name, absolute);
    joint = "; ";
  }
  if (joint[0] == ';')
    g_string_append_c (text, ')');
  return g_string_free (text, FALSE);
}

/* Repeats planned */

char *
sb_plan_sides_words (const SbAnalysis *analysis)
{
  const SbConfigurationResult *reference = sb_analysis_planned_side (analysis, 0),
                              *other = sb_analysis_planned_side (analysis, 1);
  if (reference == NULL)
    return g_strdup ("");
  return other != NULL ? g_strdup_printf ("%s and %s", reference->name, other->name) : g_strdup (reference->name);
}

static void
build_plan_measure (JsonBuilder *builder, SbMeasureId id, const SbMeasurePlan *plan)
{
  if (!plan->present) {
    sb_json_add_string (builder, "absent", plan->absent_reason);
    return;
  }
  sb_json_add_string (builder, "unit", sb_measure_info (id)->unit);
  sb_json_add_number (builder, "difference", plan->difference);
  sb_json_add_number (builder, "sd_reference", plan->sd[0]);
  sb_json_add_number (builder, "sd_other", plan->sd[1]);
  sb_json_add_number (builder, "by_noise", plan->by_noise);
  if (plan->by_sampling > 0)
    sb_json_add_number (builder, "by_sampling", plan->by_sampling);
  build_number (builder, "n_80", plan->n_80);
  build_number (builder, "n_90", plan->n_90);
  sb_json_begin_list (builder, "curve");
  for (gsize i = 0; i < SB_N_PLAN_POINTS; i++) {
    json_builder_begin_object (builder);
    sb_json_add_integer (builder, "n", (gint64) plan->curve[i].n);
    sb_json_add_number (builder, "difference_80", plan->curve[i].difference_80);
    sb_json_add_number (builder, "difference_90", plan->curve[i].difference_90);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

void
sb_plan_build (JsonBuilder *builder, const SbAnalysis *analysis)
{
  const SbPlan *plan = analysis->plan;
  if (plan == NULL)
    return;
  sb_json_begin (builder, "planner");
  sb_json_add_string (builder, "reference", sb_analysis_planned_side (analysis, 0)->name);
  if (sb_analysis_planned_side (analysis, 1) != NULL)
    sb_json_add_string (builder, "other", sb_analysis_planned_side (analysis, 1)->name);
  sb_json_add_number (builder, "level", plan->level);
  sb_json_begin (builder, "measures");
  for (int m = 0; m < SB_N_MEASURES; m++) {
    sb_json_begin (builder, sb_measure_info ((SbMeasureId) m)->key);
    build_plan_measure (builder, (SbMeasureId) m, &plan->measure[m]);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
  json_builder_end_object (builder);
}

char *
sb_repeats_words (gsize n)
{
  return n > 0 ? g_strdup_printf ("%" G_GSIZE_FORMAT, n) : g_strdup_printf ("more than %d", SB_MOST_REPEATS);
}

static gboolean
is_impractical (const SbMeasurePlan *measure)
{
  return measure->present && !(is_practical (measure->n_80) && is_practical (measure->n_90));
}

char *
sb_plan_notes (const SbPlan *plan, guint measures)
{
  gboolean impractical = FALSE, of_noise = FALSE, of_sampling = FALSE;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasurePlan *measure = &plan->measure[m];
    if ((measures & 1u << m) == 0)
      continue;
    impractical = impractical || is_impractical (measure);
    of_noise = of_noise || (measure->present && measure->by_noise > 0);
    of_sampling = of_sampling || (measure->present && measure->by_sampling > 0);
  }
  return g_strconcat (impractical ? "More than " G_STRINGIFY (
                          SB_MOST_PRACTICAL_REPEATS) " on either side are no practical number: less "
                                                     "scatter, or less noise, helps then. "
                                  : "",
                      of_noise ? "What noise may make of the difference is taken off first, as a verdict does. " : "",
                      of_sampling ? "What the place of the commands' jumps in their sample intervals may make of a "
                                    "difference is taken off first. "
                                  : "",
                      NULL);
}

/* "  Dead time: a difference of 0.5 ms takes 6 for a power of 80 %, 8 for 90 %; ten see 0.36 ms with 80 %" */
static void
append_planned (GString *text, SbMeasureId id, SbUnits units, const SbMeasurePlan *measure)
{
  g_autofree char *difference = sb_measure_format_in (id, units, measure->difference, NAN, TRUE);
  g_autofree char *ten = sb_measure_format_in (id, units, measure->curve[6].difference_80, NAN, TRUE);
  g_autofree char *n_80 = sb_repeats_words (measure->n_80), *n_90 = sb_repeats_words (measure->n_90);
  g_string_append_printf (
      text, "  %s: a difference of %s takes %s for a power of 80 %%, %s for 90 %%; ten see %s with 80 %%\n",
      sb_measure_info (id)->name, difference, n_80, n_90, ten);
}

GPtrArray *
sb_plan_absent (const SbPlan *plan)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    char *reason = plan->measure[m].absent_reason;
    if (reason == NULL || !g_hash_table_add (told, reason))
      continue;
    GString *line = g_string_new (sb_measure_info ((SbMeasureId) m)->name);
    for (int k = m + 1; k < SB_N_MEASURES; k++) {
      g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) k)->name, -1);
      if (g_strcmp0 (plan->measure[k].absent_reason, reason) == 0)
        g_string_append_printf (line, ", %s", name);
    }
    g_string_append_printf (line, ": %s", reason);
    g_ptr_array_add (lines, g_string_free (line, FALSE));
  }
  return lines;
}

/* What the plan is for: every measure's margin, or one share. */
char *
sb_plan_methods (const SbAnalysis *analysis)
{
  const SbBench *bench = analysis->bench;
  if (analysis->plan == NULL)
    return g_strdup ("");
  g_autofree char *sides = sb_plan_sides_words (analysis), *margins = sb_margins_words (bench, "the reference mean");
  g_autofree char *share = g_strdup_printf ("%.4g %% of the reference mean", 100 * bench->plan_ratio);
  return g_strdup_printf (
      "Repeats were planned for a true difference of %s, each measure by itself: the least number on "
      "either side with which Welch's two-sided test at the level %.4g has a power of 80 and of 90 %%, "
      "at the scatter of %s. ",
      bench->plan_ratio > 0 ? share : margins, analysis->plan->level, sides);
}

char *
sb_plan_text (const SbAnalysis *analysis)
{
  const SbPlan *plan = analysis->plan;
  GString *text = g_string_new (NULL);
  if (plan == NULL)
    return g_string_free (text, FALSE);
  g_autofree char *sides = sb_plan_sides_words (analysis), *notes = sb_plan_notes (plan, SB_ALL_MEASURES);
  for (int m = 0; m < SB_N_MEASURES; m++)
    if (plan->measure[m].present)
      append_planned (text, (SbMeasureId) m, analysis->bench->units, &plan->measure[m]);
  if (text->len > 0) {
    g_autofree char *head
        = g_strdup_printf ("\nRepeats on either side, at the scatter of %s, by Welch's two-sided test "
                           "of each measure by itself at the level %.4g:\n",
                           sides, plan->level);
    g_string_prepend (text, head);
  }
  if (notes[0] != '\0')
    g_string_append_printf (text, "%s\n", g_strchomp (notes));
  g_autoptr (GPtrArray) absent = sb_plan_absent (plan);
  for (guint i = 0; i < absent->len; i++)
    g_string_append_printf (text, "Not planned: %s.\n", (const char *) g_ptr_array_index (absent, i));
  return g_string_free (text, FALSE);
}
