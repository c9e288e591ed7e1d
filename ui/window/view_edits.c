/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view_edits.h"

static const SbChartChoices *
chart_of (SbDocument *document)
{
  return &sb_document_bench (document)->chart;
}

static char *
measure_words (SbMeasureId measure)
{
  return g_utf8_strdown (sb_measure_info (measure)->name, -1);
}

void
sb_edit_set_chart_view (SbDocument *document, SbView view, int measure)
{
  static const char *const steps[SB_N_VIEWS] = {
    [SB_VIEW_RESPONSE] = "show the response",
    [SB_VIEW_DIFFERENCE] = "show the difference",
    [SB_VIEW_SPREAD] = "show the spread of the repeats",
    [SB_VIEW_SWEEP] = "show the sweep over a setting",
    [SB_VIEW_SLOPE] = "show the slope",
    [SB_VIEW_RINGING] = "show the ringing",
    [SB_VIEW_PHASE] = "show the phase planes",
    [SB_VIEW_PLAN] = "show the repeats that it takes",
  };
  const SbChartChoices *old = chart_of (document);
  if (old->view == view)
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.view = view;
  if (measure >= 0 && sb_view_is_of_points (view) && (old->measures & 1u << measure) == 0)
    edited->chart.measures = 1u << measure;
  sb_document_push (document, edited, steps[view]);
}

static void
set_measures (SbDocument *document, guint measures, const char *step)
{
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.measures = measures;
  sb_document_push (document, edited, step);
}

void
sb_edit_set_measure (SbDocument *document, SbMeasureId measure)
{
  if (chart_of (document)->measures == 1u << measure)
    return;
  g_autofree char *words = measure_words (measure);
  g_autofree char *step = g_strdup_printf ("show the %s", words);
  set_measures (document, 1u << measure, step);
}

void
sb_edit_show_measure (SbDocument *document, SbMeasureId measure, gboolean shown)
{
  guint old = chart_of (document)->measures;
  guint measures = shown ? old | 1u << measure : old & ~(1u << measure);
  if (measures == old || measures == 0)
    return;
  g_autofree char *words = measure_words (measure);
  g_autofree char *step = g_strdup_printf ("%s the %s", shown ? "show" : "hide", words);
  set_measures (document, measures, step);
}

void
sb_edit_set_setting (SbDocument *document, const char *setting)
{
  if (g_str_equal (chart_of (document)->setting, setting))
    return;
  g_autofree char *step = g_strdup_printf ("sweep over the %s", setting);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  g_free (edited->chart.setting);
  edited->chart.setting = g_strdup (setting);
  sb_document_push (document, edited, step);
}

void
sb_edit_show_sweep (SbDocument *document, const char *setting, SbMeasureId measure)
{
  const SbChartChoices *old = chart_of (document);
  if (old->view == SB_VIEW_SWEEP && g_str_equal (old->setting, setting) && old->measures == 1u << measure)
    return;
  g_autofree char *words = measure_words (measure);
  g_autofree char *step = g_strdup_printf ("show the %s over the %s", words, setting);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.view = SB_VIEW_SWEEP;
  edited->chart.measures = 1u << measure;
  g_free (edited->chart.setting);
  edited->chart.setting = g_strdup (setting);
  sb_document_push (document, edited, step);
}

void
sb_edit_show_plan (SbDocument *document, SbMeasureId measure)
{
  const SbChartChoices *old = chart_of (document);
  if (old->view == SB_VIEW_PLAN && old->measures == 1u << measure)
    return;
  g_autofree char *words = measure_words (measure);
  g_autofree char *step = g_strdup_printf ("show the repeats that the %s takes", words);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.view = SB_VIEW_PLAN;
  edited->chart.measures = 1u << measure;
  sb_document_push (document, edited, step);
}

void
sb_edit_set_in_order (SbDocument *document, gboolean in_order)
{
  if (!chart_of (document)->in_order == !in_order)
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.in_order = in_order;
  sb_document_push (document, edited, in_order ? "show the repeats in their order" : "show the repeats in no order");
}

void
sb_edit_show_excluded (SbDocument *document, gboolean shown)
{
  if (!chart_of (document)->excluded_repeats == !shown)
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.excluded_repeats = shown;
  sb_document_push (document, edited, shown ? "show repeats left out" : "hide repeats left out");
}

void
sb_edit_set_difference_only (SbDocument *document, gboolean only)
{
  if (!chart_of (document)->difference_only == !only)
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.difference_only = only;
  sb_document_push (document, edited, only ? "show the difference alone" : "show the difference under the response");
}

void
sb_edit_show_label (SbDocument *document, SbLabelKind kind, gboolean shown)
{
  static const char *const words[SB_N_LABELS] = {
    [SB_LABEL_PEAKS] = "peaks",
    [SB_LABEL_SLOPE] = "peak slope",
    [SB_LABEL_OVERSHOOT] = "overshoot",
    [SB_LABEL_RINGING] = "ringing",
  };
  guint old = chart_of (document)->labels, labels = shown ? old | 1u << kind : old & ~(1u << kind);
  if (labels == old)
    return;
  g_autofree char *step = g_strdup_printf ("%s the %s", shown ? "label" : "take the label off", words[kind]);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->chart.labels = labels;
  sb_document_push (document, edited, step);
}
