/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_pair.h"

#include "json_members.h"
#include "verdict_words.h"

#include <math.h>

#define METHOD                                                                                                         \
  "simulated largest studentized difference over time, with the covariance of the repeats (Degras 2011; Telschow & "   \
  "Schwartzman 2022)"

#define METHOD_OF_TWO                                                                                                  \
  "Bonferroni's bound over the instants, since two repeats a side do not show how their scatter hangs together in "    \
  "time"

static const char *
unit_of (SbChannel channel)
{
  return channel == SB_CHANNEL_VELOCITY ? "rad/s" : "N·m";
}

static const SbDifferenceStretch *
stretch_at (const SbDifferenceCurve *curve, guint index)
{
  return &g_array_index (curve->stretches, SbDifferenceStretch, index);
}

static void
build_values (JsonBuilder *builder, const char *name, const double *values, gsize n)
{
  sb_json_begin_list (builder, name);
  for (gsize k = 0; k < n; k++)
    sb_json_add_element (builder, values[k]);
  json_builder_end_array (builder);
}

static void
build_stretches (JsonBuilder *builder, const SbDifferenceCurve *curve)
{
  sb_json_begin_list (builder, "stretches");
  for (guint i = 0; i < curve->stretches->len; i++) {
    const SbDifferenceStretch *stretch = stretch_at (curve, i);
    json_builder_begin_object (builder);
    sb_json_add_number (builder, "from_s", stretch->from_s);
    sb_json_add_number (builder, "to_s", stretch->to_s);
    sb_json_add_integer (builder, "sign", stretch->sign);
    sb_json_add_number (builder, "largest", stretch->largest);
    sb_json_add_number (builder, "at_s", stretch->at_s);
    sb_json_add_integer (builder, "instants", (gint64) stretch->n);
    sb_json_add_integer (builder, "instants_beyond", (gint64) stretch->n_beyond);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static void
build_curve (JsonBuilder *builder, const SbDifferenceCurve *curve, gboolean whole)
{
  if (!curve->present) {
    sb_json_add_string (builder, "absent", curve->absent_reason);
    return;
  }
  sb_json_add_string (builder, "unit", unit_of (curve->channel));
  sb_json_add_integer (builder, "n_reference", (gint64) curve->n_reference);
  sb_json_add_integer (builder, "n_other", (gint64) curve->n_other);
  sb_json_add_string (builder, "method", curve->by_bound ? METHOD_OF_TWO : METHOD);
  sb_json_add_number (builder, "df", curve->df);
  sb_json_add_number (builder, "critical", curve->critical);
  sb_json_add_number (builder, "from_s", sb_difference_curve_time (curve, 0));
  sb_json_add_number (builder, "step_s", curve->step_s);
  sb_json_add_integer (builder, "points", (gint64) curve->n_points);
  if (curve->by_shift[0] != NULL)
    sb_json_add_pair (builder, "shift_s", curve->shift_s);
  build_stretches (builder, curve);
  if (!whole)
    return;
  build_values (builder, "difference", curve->difference, curve->n_points);
  build_values (builder, "half_pointwise", curve->half_pointwise, curve->n_points);
  build_values (builder, "half_simultaneous", curve->half_simultaneous, curve->n_points);
}

void
sb_difference_curves_build (JsonBuilder *builder, const SbAnalysis *analysis)
{
  sb_json_begin (builder, "difference_curves");
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    const SbDifferenceCurve *curve = analysis->difference[c];
    if (curve == NULL)
      continue;
    sb_json_begin (builder, sb_channel_key ((SbChannel) c));
    build_curve (builder, curve, analysis->bench->difference_curves);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

static void
append_stretch (GString *text, SbUnits units, const SbDifferenceCurve *curve, const SbDifferenceStretch *stretch)
{
  SbShownUnit unit = sb_channel_shown_unit (curve->channel, units);
  gsize k = (gsize) llround (stretch->at_s / curve->step_s - (double) curve->first);
  g_autofree char *from = sb_number_format (1000 * stretch->from_s, 1000 * curve->step_s);
  g_autofree char *to = sb_number_format (1000 * stretch->to_s, 1000 * curve->step_s);
  g_autofree char *at = sb_number_format (1000 * stretch->at_s, 1000 * curve->step_s);
  double half = unit.factor * curve->half_simultaneous[k], size = unit.factor * fabs (stretch->largest);
  g_autofree char *least = sb_number_format (size - half, half), *most = sb_number_format (size + half, half);
  gboolean instant = !(stretch->to_s > stretch->from_s);
  g_autofree char *share = sb_stretch_share_words (stretch);
  g_string_append_printf (text, "  %s%s%s ms: %s%s, at its farthest by %s to %s %s (at %s ms)\n",
                          instant ? "at " : from, instant ? "" : " to ", to, stretch->sign > 0 ? "above" : "below",
                          share, least, most, unit.name, at);
}

/* The largest ones, in order of time. */
static void
append_stretches (GString *text, SbUnits units, const SbDifferenceCurve *curve)
{
  guint n = curve->stretches->len;
  for (guint i = 0; i < n; i++)
    if (sb_difference_stretch_is_large (curve, i, SB_STRETCHES_LISTED, -INFINITY, INFINITY))
      append_stretch (text, units, curve, stretch_at (curve, i));
  g_autofree char *others = sb_smaller_stretches_words (n, SB_STRETCHES_LISTED);
  if (others != NULL)
    g_string_append_printf (text, "  and %s\n", others);
}

char *
sb_smaller_stretches_words (guint n, guint n_told)
{
  if (n <= n_told)
    return NULL;
  return g_strdup_printf ("%u smaller stretch%s (by difference times duration)", n - n_told,
                          n > n_told + 1 ? "es" : "");
}

char *
sb_stretch_share_words (const SbDifferenceStretch *stretch)
{
  if (stretch->n_beyond == stretch->n)
    return g_strdup ("");
  return g_strdup_printf (" (beyond at %.0f %% of the instants)",
                          100 * (double) stretch->n_beyond / (double) stretch->n);
}

char *
sb_difference_curves_text (const SbAnalysis *analysis)
{
  GString *text = g_string_new (NULL);
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    const SbDifferenceCurve *curve = analysis->difference[c];
    if (curve == NULL)
      continue;
    const char *name = c == SB_CHANNEL_VELOCITY ? "velocity" : "torque";
    if (!curve->present)
      g_string_append_printf (text, "\nDifference of the %s over time: none, %s\n", name, curve->absent_reason);
    else if (curve->stretches->len == 0)
      g_string_append_printf (
          text, "\nDifference of the %s over time: zero lies within its 95 %% band of all instants throughout%s\n",
          name, curve->by_shift[0] != NULL ? ", or within what a shift by the sample intervals makes of it" : "");
    else
      g_string_append_printf (text, "\nDifference of the %s over time, beyond its 95 %% band of all instants:\n", name);
    if (curve->present)
      append_stretches (text, analysis->bench->units, curve);
  }
  return g_string_free (text, FALSE);
}

/* The band's width is told, so that a reader sees what was asked of a difference. */
static void
append_curve_methods (GString *text, const SbAnalysis *analysis)
{
  const char *joint
      = "The mean curves were subtracted at each instant that all repeats cover; a difference counts where "
        "its 95 % band of all instants leaves zero: ";
  gboolean any = FALSE, by_bound = FALSE, shifted = FALSE;
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    const SbDifferenceCurve *curve = analysis->difference[c];
    if (curve == NULL || !curve->present)
      continue;
    shifted = shifted || curve->by_shift[0] != NULL;
    by_bound = by_bound || curve->by_bound;
    g_string_append_printf (text, "%s%.2f standard errors of the %s", joint, curve->critical,
                            c == SB_CHANNEL_VELOCITY ? "velocity" : "torque");
    joint = ", ";
    any = TRUE;
  }
  if (any && by_bound)
    g_string_append (text, " (" METHOD_OF_TWO "). ");
  else if (any)
    g_string_append (text,
                     " (from simulated studentized curves with the covariance of the repeats, seeded; Degras 2011, "
                     "Telschow & Schwartzman 2022). ");
  if (any)
    g_string_append (text, "Stretches on one side of zero count as one where the difference stays beyond its pointwise "
                           "95 % band between them, on an average, or where a single instant parts them. ");
  if (shifted)
    g_string_append (text, "What a shift of one curve by the sample intervals that the commands jump in makes of the "
                           "difference does not count, as these are not alike. ");
}

static const char *
name_of (const SbAnalysis *analysis, int index)
{
  return sb_analysis_configuration (analysis, (guint) index)->name;
}

/* The rule for sampling, where it left a verdict open. */
static void
append_sampling_methods (GString *text, const SbComparison *comparison)
{
  g_autoptr (GString) names = g_string_new (NULL);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureComparison *measure = &comparison->measure[m];
    if (!measure->present || !measure->within_sampling)
      continue;
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) m)->name, -1);
    g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
  }
  if (names->len > 0)
    g_string_append_printf (
        text,
        "A verdict on what counts from the onset had to hold wherever in the sample interval "
        "before it either command jumped, as the repeats' scatter does not show it; that left undecided: %s. ",
        names->str);
}

/* The rules for noise, where they left a verdict open. */
static void
append_noise_methods (GString *text, const SbComparison *comparison)
{
  g_autoptr (GString) by_noise = g_string_new (NULL);
  g_autoptr (GString) by_crests = g_string_new (NULL);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureComparison *measure = &comparison->measure[m];
    if (!measure->present || !(measure->within_noise || measure->in_noise))
      continue;
    GString *names = !measure->in_noise && sb_is_open_by_crests (measure) ? by_crests : by_noise;
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) m)->name, -1);
    g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
  }
  if (by_noise->len > 0)
    g_string_append_printf (text,
                            "A verdict had to hold as well for what is left of the difference without what noise is "
                            "expected to have made of it, and a quarter more, and for figures that stand above the "
                            "noise on a side; that left undecided: %s. ",
                            by_noise->str);
  if (by_crests->len > 0)
    g_string_append_printf (text,
                            "Where noise decides at which crest of the response a figure is read, or how many crests "
                            "stand above it, the sides had to be further apart than these crests; that left undecided: "
                            "%s. ",
                            by_crests->str);
}

char *
sb_pair_rules (const SbAnalysis *analysis)
{
  const SbComparison *comparison = analysis->comparison;
  if (comparison == NULL || comparison->n_compared == 0)
    return g_strdup ("");
  g_autofree char *margins = sb_margins_words (analysis->bench, "the reference mean");
  const char *equal = sb_bench_word (analysis->bench, sb_verdict_words (SB_VERDICT_PRACTICALLY_EQUAL));
  const char *differs = sb_bench_word (analysis->bench, sb_verdict_words (SB_VERDICT_DIFFERS));
  return g_strdup_printf (
      "Each interval is of its measure alone; p is of Welch's two-sided test, after Holm over %" G_GSIZE_FORMAT
      " measure%s. Of the verdicts, %s means within %s by two one-sided tests at %.4g %%, whatever p; %s means p below "
      "%.4g otherwise.\n",
      comparison->n_compared, comparison->n_compared == 1 ? "" : "s", equal, margins, 100 * comparison->level, differs,
      comparison->level);
}

char *
sb_pair_methods (const SbAnalysis *analysis)
{
  const SbBench *bench = analysis->bench;
  GString *text = g_string_new (NULL);
  if (analysis->comparison == NULL)
    return g_string_free (text, FALSE);
  if (analysis->comparison->n_compared == 0) {
    g_string_append_printf (text,
                            "%s could not be compared with %s in any measure: that takes two repeats of each, and "
                            "figures that scatter. ",
                            name_of (analysis, bench->other), name_of (analysis, bench->reference));
    return g_string_free (text, FALSE);
  }
  g_autofree char *margins = sb_margins_words (bench, "the reference mean");
  double level = bench->verdict_level;
  g_string_append_printf (
      text,
      "%s was compared with %s by Welch's t interval for each measure; p values were corrected after Holm over the "
      "%" G_GSIZE_FORMAT " measure%s compared. Two configurations count as practically equal in a measure when the "
      "%.4g %% interval of the "
      "difference lies within %s (two one-sided tests at %.4g %%); else a measure differs when its p is below %.4g; "
      "else "
      "it is undecided. ",
      name_of (analysis, bench->other), name_of (analysis, bench->reference), analysis->comparison->n_compared,
      analysis->comparison->n_compared == 1 ? "" : "s", 100 * (1 - 2 * level), margins, 100 * level, level);
  append_noise_methods (text, analysis->comparison);
  append_sampling_methods (text, analysis->comparison);
  append_curve_methods (text, analysis);
  return g_string_free (text, FALSE);
}
