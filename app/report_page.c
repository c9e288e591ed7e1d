/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_page.h"

#include "proof_file.h"
#include "report_judgements.h"
#include "results.h"
#include "results_cells.h"

#include <math.h>

static const char style[]
    = "body{font:11pt/1.45 Inter,'DejaVu Sans',sans-serif;color:#1b1f23;background:#fff;max-width:60rem;margin:2rem "
      "auto;padding:0 1rem}"
      "h1{font-size:1.6rem;margin:0 0 .5rem}h2{font-size:1.15rem;margin:2rem 0 .5rem}h3{font-size:1rem;margin:1rem 0 "
      ".25rem}"
      ""
      "img{width:100%;height:auto}"
      ".scroll{overflow-x:auto}"
      "table{border-collapse:collapse;font-size:9.5pt;font-variant-numeric:tabular-nums}"
      "th,td{padding:.25rem .7rem;border-bottom:1px solid #d5d9de;text-align:right;white-space:nowrap}"
      "th:first-child,td:first-child,.left{text-align:left}"
      "thead th{border-bottom:2px solid #5b636c;vertical-align:bottom}"
      "ul{padding-left:1.2rem}code{font-size:8.5pt;overflow-wrap:anywhere}"
      ".care{border-left:4px solid #b3541e;padding:.5rem 1rem;background:#fbf3ee}"
      "@media "
      "print{body{margin:0;max-width:none}h2,h3{break-after:avoid}tr{break-inside:avoid}.scroll{overflow:visible}"
      "table{font-size:7.5pt}th,td{padding:.15rem .35rem;white-space:normal}}";

static const char cautions[]
    = "<p class=\"care\"><strong>A steering motor can break a wrist.</strong> During step tests keep hands clear and "
      "the "
      "rim guarded or removed, have an emergency stop within reach, switch the power off before touching, and start at "
      "low torque. Follow the maker’s instructions and local rules; electrical work is for those licensed for it. "
      "Slewbench reads logs; it drives no motor.</p>\n";

static void
append_escaped (GString *html, const char *text)
{
  g_autofree char *readable = g_utf8_make_valid (text, -1); /* file names need not be UTF-8 */
  g_autofree char *escaped = g_markup_escape_text (readable, -1);
  g_string_append (html, escaped);
}

static void
append_cell (GString *html, const char *tag, const char *attributes, const char *text)
{
  g_string_append_printf (html, "<%s%s>", tag, attributes);
  append_escaped (html, text);
  g_string_append_printf (html, "</%s>", tag);
}

static void
append_value (GString *html, SbMeasureId id, const SbMeasureSummary *measure)
{
  g_autofree char *text = sb_summary_cell (id, measure);
  append_cell (html, "td", "", text);
}

/* Words are set flush left, figures flush right. */
static const char *
alignment_of (gsize comparison_cell)
{
  return comparison_cell + 1 == SB_COMPARISON_CELLS ? " class=\"left\"" : "";
}

static void
append_comparison (GString *html, SbMeasureId id, const SbMeasureComparison *measure)
{
  char *cells[SB_COMPARISON_CELLS];
  sb_comparison_cells (id, measure, cells);
  for (gsize i = 0; i < SB_COMPARISON_CELLS; i++) {
    append_cell (html, "td", alignment_of (i), cells[i]);
    g_free (cells[i]);
  }
}

static void
append_table_head (GString *html, const SbAnalysis *analysis)
{
  g_string_append (html, "<thead><tr><th scope=\"col\">Measure</th><th scope=\"col\">Unit</th>");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->summary == NULL)
      continue;
    g_autofree char *heading
        = g_strdup_printf ("%s (n = %" G_GSIZE_FORMAT ")", configuration->name, configuration->n_used);
    append_cell (html, "th", " scope=\"col\"", heading);
  }
  for (gsize i = 0; analysis->comparison != NULL && i < SB_COMPARISON_CELLS; i++) {
    g_autofree char *attributes = g_strconcat (" scope=\"col\"", alignment_of (i), NULL);
    append_cell (html, "th", attributes, sb_comparison_headings[i]);
  }
  g_string_append (html, "</tr></thead>\n");
}

static void
append_table (GString *html, const SbAnalysis *analysis)
{
  g_string_append (html, "<h2>Measures</h2>\n<div class=\"scroll\" role=\"region\" aria-label=\"Measures\" "
                         "tabindex=\"0\"><table>\n");
  append_table_head (html, analysis);
  g_string_append (html, "<tbody>\n");
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) m);
    g_string_append (html, "<tr>");
    append_cell (html, "th", " scope=\"row\"", info->name);
    append_cell (html, "td", "", info->display_unit);
    for (guint c = 0; c < analysis->configurations->len; c++) {
      const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
      if (configuration->summary != NULL)
        append_value (html, (SbMeasureId) m, &configuration->summary->measure[m]);
    }
    if (analysis->comparison != NULL)
      append_comparison (html, (SbMeasureId) m, &analysis->comparison->measure[m]);
    g_string_append (html, "</tr>\n");
  }
  g_string_append (html, "</tbody></table></div>\n<p>Mean ± sample standard deviation of the repeats. A ? marks a "
                         "figure with doubts, which stand below. "
                         "A ? marks a figure with doubts, which are listed below.");
  if (analysis->comparison != NULL) {
    const SbBench *bench = analysis->bench;
    g_string_append (html, " Difference: ");
    append_escaped (html, sb_analysis_configuration (analysis, (guint) bench->other)->name);
    g_string_append (html, " minus ");
    append_escaped (html, sb_analysis_configuration (analysis, (guint) bench->reference)->name);
    g_string_append_c (html, '.');
  }
  g_string_append (html, "</p>\n");
}

static void
append_doubt (GString *doubts, const char *where, const char *what, const char *sentence)
{
  g_string_append (doubts, "<li>");
  append_escaped (doubts, where);
  g_string_append (doubts, ", ");
  append_escaped (doubts, what);
  g_string_append (doubts, ": ");
  append_escaped (doubts, sentence);
  g_string_append (doubts, "</li>\n");
}

static void
append_remarks (GString *doubts, const SbConfigurationResult *configuration)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    g_autofree char *file = sb_trial_result_label (trial);
    for (guint i = 0; trial->remarks != NULL && i < trial->remarks->len; i++)
      append_doubt (doubts, configuration->name, file, g_ptr_array_index (trial->remarks, i));
  }
}

/* What a reader should know before believing a figure: doubts, what is absent, what is not alike. */
static void
append_doubts (GString *html, const SbAnalysis *analysis)
{
  g_autoptr (GString) doubts = g_string_new (NULL);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    append_remarks (doubts, configuration);
    for (int m = 0; configuration->summary != NULL && m < SB_N_MEASURES; m++) {
      const SbMeasureSummary *measure = &configuration->summary->measure[m];
      const char *name = sb_measure_info ((SbMeasureId) m)->name;
      if (!measure->present)
        append_doubt (doubts, configuration->name, name, measure->absent_reason);
      for (guint i = 0; measure->doubts != NULL && i < measure->doubts->len; i++)
        append_doubt (doubts, configuration->name, name, g_ptr_array_index (measure->doubts, i));
    }
  }
  for (guint i = 0; analysis->comparison != NULL && i < analysis->comparison->fairness->len; i++) {
    const SbFairness *fairness = g_ptr_array_index (analysis->comparison->fairness, i);
    g_autofree char *sides = g_strdup_printf ("%s against %s", fairness->reference, fairness->other);
    append_doubt (doubts, "The two sides are not alike", fairness->what, sides);
  }
  if (doubts->len > 0)
    g_string_append_printf (html, "<h2>Doubts and gaps</h2>\n<ul>\n%s</ul>\n", doubts->str);
}

/* The drive models: a row per parameter, why one is missing where its value would stand. */
static void
append_drive_rows (GString *html, const SbAnalysis *analysis)
{
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++) {
    g_string_append (html, "<tr>");
    append_cell (html, "th", " scope=\"row\"", sb_drive_parameter_info ((SbDriveParameterId) i)->name);
    for (guint c = 0; c < analysis->configurations->len; c++) {
      const SbDriveModel *model = sb_analysis_configuration (analysis, c)->drive;
      if (model == NULL || !model->present)
        continue;
      g_autofree char *value = sb_drive_parameter_format (model, (SbDriveParameterId) i, TRUE);
      append_cell (html, "td", "", value);
    }
    g_string_append (html, "</tr>\n");
  }
}

static void
append_drive_words (GString *html, const SbConfigurationResult *configuration)
{
  const SbDriveModel *model = configuration->drive;
  g_string_append (html, "<li><strong>");
  append_escaped (html, configuration->name);
  g_string_append (html, "</strong>: ");
  if (!model->present) {
    append_escaped (html, model->absent_reason);
    g_string_append (html, ".</li>\n");
    return;
  }
  g_autofree char *form = sb_drive_form_words (model->form);
  g_autofree char *limits = sb_drive_model_limits_text (model);
  append_escaped (html, form);
  g_string_append (html, "; ");
  append_escaped (html, limits);
  g_string_append (html, ".<ul>\n");
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++)
    if (!model->parameter[i].identified)
      append_doubt (html, "Not identifiable", sb_drive_parameter_info ((SbDriveParameterId) i)->name,
                    model->parameter[i].reason);
  for (guint i = 0; i < model->doubts->len; i++)
    append_cell (html, "li", "", g_ptr_array_index (model->doubts, i));
  g_string_append (html, "</ul></li>\n");
}

static void
append_drive_models (GString *html, const SbAnalysis *analysis)
{
  if (analysis->bench->drive_model == SB_DRIVE_MODEL_NONE)
    return;
  g_string_append (html, "<h2>Drive model</h2>\n<div class=\"scroll\" role=\"region\" aria-label=\"Drive model\" "
                         "tabindex=\"0\"><table>\n<thead><tr><th scope=\"col\">Parameter</th>");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->drive != NULL && configuration->drive->present)
      append_cell (html, "th", " scope=\"col\"", configuration->name);
  }
  g_string_append (html, "</tr></thead>\n<tbody>\n");
  append_drive_rows (html, analysis);
  g_string_append (html,
                   "</tbody></table></div>\n<p>Value ± standard error of the model fitted to the mean curves (dark "
                   "dashes in the chart).</p>\n<ul>\n");
  for (guint c = 0; c < analysis->configurations->len; c++)
    if (sb_analysis_configuration (analysis, c)->drive != NULL)
      append_drive_words (html, sb_analysis_configuration (analysis, c));
  g_string_append (html, "</ul>\n");
}

static void
append_methods (GString *html, const SbAnalysis *analysis)
{
  g_autofree char *methods = sb_results_methods_text (analysis);
  g_auto (GStrv) paragraphs = g_strsplit (methods, "\n\n", -1);
  g_string_append (html, "<h2>Methods</h2>\n");
  for (gsize i = 0; paragraphs[i] != NULL; i++) {
    append_cell (html, "p", "", g_strstrip (paragraphs[i]));
    g_string_append_c (html, '\n');
  }
}

static void
append_logs (GString *html, const SbAnalysis *analysis)
{
  g_string_append (html,
                   "<h2>Logs</h2>\n<div class=\"scroll\" role=\"region\" aria-label=\"Logs\" tabindex=\"0\"><table>\n"
                   "<thead><tr><th scope=\"col\">Configuration</th><th scope=\"col\" class=\"left\">Log</th><th "
                   "scope=\"col\">Rows</th><th scope=\"col\">Left out</th><th scope=\"col\" class=\"left\">"
                   "SHA-256</th></tr></thead>\n<tbody>\n");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      g_autofree char *file = sb_trial_result_label (trial);
      g_string_append (html, "<tr>");
      append_cell (html, "td", "", configuration->name);
      append_cell (html, "td", " class=\"left\"", file);
      if (trial->facts != NULL)
        g_string_append_printf (
            html, "<td>%" G_GSIZE_FORMAT "</td><td>%" G_GSIZE_FORMAT "</td><td class=\"left\"><code>%s</code></td>",
            trial->facts->n_rows, trial->facts->n_rows_left_out, trial->facts->sha256);
      else
        append_cell (html, "td", " class=\"left\" colspan=\"3\"", trial->failure != NULL ? trial->failure : "not read");
      g_string_append (html, "</tr>\n");
    }
  }
  g_string_append (html, "</tbody></table></div>\n");
}

char *
sb_report_page (const SbAnalysis *analysis, GBytes *svg)
{
  const char *title = analysis->bench->chart.title[0] != '\0' ? analysis->bench->chart.title : "Step test report";
  GString *html = g_string_new ("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
  append_escaped (html, title);
  g_autofree char *proof = sb_proof_text (analysis, NULL);
  g_string_append_printf (
      html, "</title>\n<style>%s</style>\n" SB_PROOF_PAGE_TAG "%s</script>\n</head>\n<body>\n<main>\n<h1>", style,
      proof);
  append_escaped (html, title);
  g_string_append (html, "</h1>\n");
  g_string_append (html, cautions);
  gsize n_bytes;
  const guchar *bytes = g_bytes_get_data (svg, &n_bytes);
  g_autofree char *encoded = g_base64_encode (bytes, n_bytes);
  g_string_append_printf (html,
                          "<h2>Response</h2>\n<img alt=\"Mean curves with their bands; the figures stand in the "
                          "table below\" src=\"data:image/svg+xml;base64,%s\">\n",
                          encoded);
  append_table (html, analysis);
  sb_report_judgements_append (html, analysis);
  append_drive_models (html, analysis);
  append_doubts (html, analysis);
  append_methods (html, analysis);
  append_logs (html, analysis);
  g_string_append (html, "</main>\n</body>\n</html>\n");
  return g_string_free (html, FALSE);
}
