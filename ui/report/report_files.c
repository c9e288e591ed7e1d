/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_files.h"

#include "bundle.h"
#include "chart_export.h"
#include "html_page.h"
#include "proof.h"
#include "results.h"
#include "results_curves.h"
#include "results_markup.h"

#include <string.h>

static void
file_free (gpointer data)
{
  SbReportFile *file = data;
  g_free (file->name);
  g_bytes_unref (file->bytes);
  g_free (file);
}

static void
add_bytes (GPtrArray *files, const char *name, GBytes *bytes)
{
  SbReportFile *file = g_new (SbReportFile, 1);
  *file = (SbReportFile){ g_strdup (name), bytes };
  g_ptr_array_add (files, file);
}

static void
add_text (GPtrArray *files, const char *name, char *text)
{
  add_bytes (files, name, g_bytes_new_take (text, strlen (text)));
}

/* The proof that a page or a PDF carries; its picture is the chart's. (transfer full) */
static char *
proof_of (const SbChartModel *model, const char *report)
{
  SbProofPicture picture = { NULL, NULL, model->evidence, report };
  return sb_proof_text (model->analysis, &picture);
}

static SbChartModel *
make_model (SbAnalysis *analysis, int evidence)
{
  SbChartModel *model = sb_chart_model_new (analysis, evidence);
  sb_chart_model_set_paper (model, &analysis->bench->chart.paper);
  return model;
}

static GBytes *
make_chart (const SbChartModel *model, SbChartFormat format, GError **error)
{
  SbChartSize size = sb_chart_size_of (&model->analysis->bench->chart.paper);
  return sb_chart_render (model, format, &size, error);
}

static GBytes *
make_page (const SbReportDocument *document, GBytes *svg)
{
  g_autofree char *proof = proof_of (document->model, "page");
  char *html = sb_html_page (document, svg, proof);
  return g_bytes_new_take (html, strlen (html));
}

static GBytes *
make_pdf (const SbReportDocument *document, SbPaperSize sheet, GError **error)
{
  g_autofree char *proof = proof_of (document->model, sb_paper_size_key (sheet));
  return sb_pdf_pages (document, sheet, proof, error);
}

GBytes *
sb_report_page_bytes (SbAnalysis *analysis, int evidence, GError **error)
{
  g_autoptr (SbChartModel) model = make_model (analysis, evidence);
  g_autoptr (SbReportDocument) document = sb_report_document_new (model);
  model->title_is_above = TRUE;
  g_autoptr (GBytes) svg = make_chart (model, SB_CHART_SVG, error);
  return svg != NULL ? make_page (document, svg) : NULL;
}

GBytes *
sb_report_pdf_bytes (SbAnalysis *analysis, int evidence, SbPaperSize sheet, GError **error)
{
  g_autoptr (SbChartModel) model = make_model (analysis, evidence);
  g_autoptr (SbReportDocument) document = sb_report_document_new (model);
  model->title_is_above = TRUE;
  return make_pdf (document, sheet, error);
}

/* The chart as it stands on the page, whose heading is its title: where it has none, `chart` itself. */
static gboolean
add_page (GPtrArray *files, const SbReportDocument *document, GBytes *chart, GError **error)
{
  g_autoptr (GBytes) svg
      = document->model->title[0] == '\0' ? g_bytes_ref (chart) : make_chart (document->model, SB_CHART_SVG, error);
  if (svg == NULL)
    return FALSE;
  add_bytes (files, "report.html", make_page (document, svg));
  return TRUE;
}

static gboolean
add_pictures (GPtrArray *files, const SbReportDocument *document, SbPaperSize sheet, GError **error)
{
  GBytes *svg = make_chart (document->model, SB_CHART_SVG, error);
  if (svg == NULL)
    return FALSE;
  add_bytes (files, "chart.svg", svg);
  GBytes *png = make_chart (document->model, SB_CHART_PNG, error);
  if (png == NULL)
    return FALSE;
  add_bytes (files, "chart.png", png);
  GBytes *pdf = make_chart (document->model, SB_CHART_PDF, error);
  if (pdf == NULL)
    return FALSE;
  add_bytes (files, "chart.pdf", pdf);
  document->model->title_is_above = TRUE;
  if (!add_page (files, document, svg, error))
    return FALSE;
  GBytes *pages = make_pdf (document, sheet, error);
  if (pages == NULL)
    return FALSE;
  add_bytes (files, "report.pdf", pages);
  return TRUE;
}

static void
add_curves (GPtrArray *files, const SbAnalysis *analysis)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    g_autofree char *name = sb_results_curves_name (analysis, c);
    char *csv = sb_results_curves_csv (analysis, c);
    if (csv != NULL)
      add_text (files, name, csv);
  }
}

static void
add_sums (GPtrArray *files)
{
  GString *sums = g_string_new (NULL);
  for (guint i = 0; i < files->len; i++) {
    const SbReportFile *file = g_ptr_array_index (files, i);
    g_autofree char *sum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, file->bytes);
    g_string_append_printf (sums, "%s  %s\n", sum, file->name);
  }
  add_text (files, SB_REPORT_SUMS, g_string_free (sums, FALSE));
}

GPtrArray *
sb_report_files (SbAnalysis *analysis, int evidence, SbPaperSize sheet, GError **error)
{
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (file_free);
  g_autoptr (SbChartModel) model = make_model (analysis, evidence);
  g_autoptr (SbReportDocument) document = sb_report_document_new (model);
  if (!add_pictures (files, document, sheet, error))
    return NULL;
  add_text (files, "measures.txt", sb_results_table_text (analysis));
  add_text (files, "measures.csv", sb_results_table_csv (analysis));
  add_text (files, "measures.md", sb_results_table_markup (analysis, SB_MARKUP_MARKDOWN));
  add_text (files, "measures.tex", sb_results_table_markup (analysis, SB_MARKUP_LATEX));
  add_text (files, "results.json", sb_results_json (analysis));
  add_text (files, "methods.txt", sb_results_methods_text (analysis));
  add_curves (files, analysis);
  add_sums (files);
  return g_steal_pointer (&files);
}

gboolean
sb_report_bundle (SbAnalysis *analysis, int evidence, SbPaperSize sheet, const char *path, GError **error)
{
  g_autoptr (GPtrArray) files = sb_report_files (analysis, evidence, sheet, error);
  g_autoptr (SbBundle) bundle = files != NULL ? sb_bundle_new (analysis, path, error) : NULL;
  if (bundle == NULL)
    return FALSE;
  for (guint i = 0; i < files->len; i++) {
    const SbReportFile *file = g_ptr_array_index (files, i);
    g_autofree char *name = g_strconcat (SB_BUNDLE_REPORT "/", file->name, NULL);
    if (!sb_bundle_add (bundle, name, file->bytes, error))
      return FALSE;
  }
  return sb_bundle_finish (g_steal_pointer (&bundle), error);
}
