/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_document.h"

#include "methods_table.h"
#include "report_judgements.h"
#include "results.h"
#include "fairness.h"
#include "results_cells.h"
#include "results_notes.h"
#include "results_remarks.h"

#include <string.h>

static char *
measure_heading (SbMeasureId id, SbUnits units)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  const char *unit = sb_measure_shown_unit (id, units).name;
  return strcmp (unit, "1") == 0 ? g_strdup (info->name) : g_strdup_printf ("%s [%s]", info->name, unit);
}

static void
add_configuration_heading (SbReportTable *table, const SbConfigurationResult *configuration)
{
  sb_report_table_add (table,
                       g_strdup_printf ("%s (n = %" G_GSIZE_FORMAT ")", configuration->name, configuration->n_used));
}

static void
add_noted (SbReportTable *table, char *text, const SbResultNotes *notes, int configuration, SbMeasureId id)
{
  g_autofree char *cell = text, *mark = sb_result_notes_mark (notes, configuration, id);
  sb_report_table_add (table, g_strconcat (cell, mark, NULL));
}

static void
add_summary (SbReportTable *table, const SbAnalysis *analysis, const SbResultNotes *notes, guint c, SbMeasureId id)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
  add_noted (table, sb_summary_cell (id, analysis->bench->units, &configuration->summary->measure[id]), notes, (int) c,
             id);
}

/* Measures of the configurations `shown` (indices), from `first` on. */
static void
add_measures (SbReportDocument *document, const SbAnalysis *analysis, const SbResultNotes *notes, const GArray *shown,
              guint first, guint n)
{
  SbReportTable *table = sb_report_add_table (document, "Measures");
  sb_report_table_add (table, g_strdup ("Measure"));
  for (guint i = first; i < first + n; i++)
    add_configuration_heading (table, sb_analysis_configuration (analysis, g_array_index (shown, guint, i)));
  sb_report_table_end_heading (table);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    sb_report_table_add (table, measure_heading ((SbMeasureId) m, analysis->bench->units));
    for (guint i = first; i < first + n; i++)
      add_summary (table, analysis, notes, g_array_index (shown, guint, i), (SbMeasureId) m);
  }
}

/* The pair in a table of its own, so that the verdict stands on the page however many configurations there are. */
static void
add_comparison (SbReportDocument *document, const SbAnalysis *analysis, const SbResultNotes *notes)
{
  const SbBench *bench = analysis->bench;
  guint sides[2] = { (guint) bench->reference, (guint) bench->other };
  const SbConfigurationResult *reference = sb_analysis_configuration (analysis, sides[0]);
  const SbConfigurationResult *other = sb_analysis_configuration (analysis, sides[1]);
  sb_report_add_heading (document, 2, g_strdup_printf ("%s against %s", other->name, reference->name));
  SbReportTable *table = sb_report_add_table (document, "Comparison");
  sb_report_table_add (table, g_strdup ("Measure"));
  add_configuration_heading (table, reference);
  add_configuration_heading (table, other);
  for (gsize i = 0; i < SB_COMPARISON_CELLS; i++)
    sb_report_table_add (table, g_strdup (sb_comparison_headings[i]));
  sb_report_table_end_heading (table);
  table->left |= (guint64) 1 << (table->n_columns - 1);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    SbMeasureId id = (SbMeasureId) m;
    sb_report_table_add (table, measure_heading (id, analysis->bench->units));
    add_summary (table, analysis, notes, sides[0], id);
    add_summary (table, analysis, notes, sides[1], id);
    char *cells[SB_COMPARISON_CELLS];
    sb_comparison_cells (id, analysis->bench, &analysis->comparison->measure[m], cells);
    for (gsize i = 0; i + 1 < SB_COMPARISON_CELLS; i++)
      sb_report_table_add (table, cells[i]);
    add_noted (table, cells[SB_COMPARISON_CELLS - 1], notes, SB_NOTE_OF_COMPARISON, id);
  }
  sb_report_add (
      document, SB_BLOCK_PARAGRAPH,
      g_strdup_printf ("Difference: %s minus %s. Figures as in the tables of measures.", other->name, reference->name));
}

static void
add_all_measures (SbReportDocument *document, const SbAnalysis *analysis, const SbResultNotes *notes)
{
  g_autoptr (GArray) shown = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint c = 0; c < analysis->configurations->len; c++)
    if (sb_analysis_configuration (analysis, c)->summary != NULL)
      g_array_append_val (shown, c);
  sb_report_add_heading (document, 2, g_strdup ("Measures"));
  for (guint first = 0, n; first < shown->len; first += n) {
    n = sb_report_next_columns (shown->len - first);
    add_measures (document, analysis, notes, shown, first, n);
  }
  sb_report_add (document, SB_BLOCK_PARAGRAPH,
                 g_strdup ("Mean ± sample standard deviation of the repeats. A ? marks a figure with doubts, a – one "
                           "that is missing; the numbers in brackets lead to the reasons under “Doubts and gaps”."));
}

/* What a reader should know before believing a figure. */
static void
add_doubts (SbReportDocument *document, const SbAnalysis *analysis, const SbResultNotes *notes)
{
  guint heading = document->blocks->len;
  sb_report_add_heading (document, 2, g_strdup ("Doubts and gaps"));
  SbReportBlock *list = sb_report_add_list (document);
  for (guint i = 0; i < sb_result_notes_count (notes); i++) {
    g_autofree char *note = sb_result_notes_text (notes, i);
    sb_report_list_add (list, g_strdup_printf ("[%u] %s", i + 1, note));
  }
  g_autoptr (GPtrArray) remarks = sb_results_remarks (analysis);
  for (guint i = 0; i < remarks->len; i++)
    sb_report_list_add (list, g_strdup (g_ptr_array_index (remarks, i)));
  for (guint i = 0; analysis->comparison != NULL && i < analysis->comparison->fairness->len; i++) {
    const SbFairness *fairness = g_ptr_array_index (analysis->comparison->fairness, i);
    g_autofree char *sentence = sb_fairness_text (fairness);
    sb_report_list_add (list, g_strdup_printf ("%s: %s", sb_fairness_heading (fairness), sentence));
  }
  if (list->items->len == 0)
    g_ptr_array_set_size (document->blocks, (int) heading);
}

static void
add_methods (SbReportDocument *document, const SbAnalysis *analysis)
{
  g_autofree char *methods = sb_results_methods_paragraphs (analysis);
  g_auto (GStrv) paragraphs = g_strsplit (methods, "\n\n", -1);
  sb_report_add_heading (document, 2, g_strdup ("Methods"));
  for (gsize i = 0; paragraphs[i] != NULL; i++)
    if (g_strstrip (paragraphs[i])[0] != '\0')
      sb_report_add (document, SB_BLOCK_PARAGRAPH, g_strdup (paragraphs[i]));
  guint n_columns;
  g_autoptr (GPtrArray) cells = sb_methods_cells (analysis, &n_columns);
  SbReportTable *table = sb_report_add_table (document, "Configurations");
  for (guint i = 0; i < cells->len; i++) {
    sb_report_table_add (table, g_utf8_make_valid (g_ptr_array_index (cells, i), -1));
    if (i + 1 == n_columns)
      sb_report_table_end_heading (table);
  }
  table->left = (1u << n_columns) - 1;
}

static void
add_log (SbReportTable *table, const SbConfigurationResult *configuration, const SbTrialResult *trial)
{
  const SbTrialFacts *facts = trial->facts;
  sb_report_table_add (table, g_strdup (configuration->name));
  sb_report_table_add (table, sb_trial_result_label (trial));
  if (facts == NULL) {
    sb_report_table_add (table, g_strdup ("–"));
    sb_report_table_add (table, g_strdup ("–"));
    sb_report_table_add (table, g_strdup (trial->failure != NULL ? trial->failure : "not read"));
    return;
  }
  sb_report_table_add (table, g_strdup_printf ("%" G_GSIZE_FORMAT, facts->n_rows));
  sb_report_table_add (table, g_strdup_printf ("%" G_GSIZE_FORMAT, facts->n_rows_left_out));
  sb_report_table_add (table, g_strdup (facts->sha256));
}

static void
add_logs (SbReportDocument *document, const SbAnalysis *analysis)
{
  static const char *const headings[] = { "Configuration", "Log", "Rows", "Left out", "SHA-256" };
  sb_report_add_heading (document, 2, g_strdup ("Logs"));
  SbReportTable *table = sb_report_add_table (document, "Logs");
  for (gsize i = 0; i < G_N_ELEMENTS (headings); i++)
    sb_report_table_add (table, g_strdup (headings[i]));
  sb_report_table_end_heading (table);
  table->left |= 1u << 1 | 1u << 4;
  table->code = 1u << 4;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++)
      add_log (table, configuration, sb_configuration_result_trial (configuration, t));
  }
}

static void
add_cautions (SbReportDocument *document)
{
  SbReportBlock *care = sb_report_add (
      document, SB_BLOCK_CARE,
      g_strdup ("During step tests keep hands clear and the rim guarded or removed, have an emergency stop within "
                "reach, switch the power off before touching, and start at low torque. Follow the maker’s instructions "
                "and local rules; electrical work is for those licensed for it. Slewbench reads logs; it drives no "
                "motor."));
  care->lead = g_strdup ("A steering motor can break a wrist.");
}

SbReportDocument *
sb_report_document_new (SbChartModel *model)
{
  const SbAnalysis *analysis = model->analysis;
  SbReportDocument *document = sb_report_document_begin (model);
  const char *title = analysis->bench->chart.title;
  document->title = g_utf8_make_valid (title[0] != '\0' ? title : "Step test report", -1);
  g_autoptr (SbResultNotes) notes = sb_result_notes_new (analysis, TRUE);
  add_cautions (document);
  sb_report_add_heading (document, 2, g_strdup ("Chart"));
  sb_report_add (document, SB_BLOCK_CHART, NULL);
  if (analysis->comparison != NULL)
    add_comparison (document, analysis, notes);
  add_all_measures (document, analysis, notes);
  sb_report_add_judgements (document, analysis);
  add_doubts (document, analysis, notes);
  add_methods (document, analysis);
  add_logs (document, analysis);
  return document;
}
