/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "bundle.h"
#include "chart_export.h"
#include "report_folder.h"

static gboolean
write_report (SbAnalysis *analysis, int evidence, SbPaperSize sheet, const char *folder, GError **error)
{
  g_autoptr (GPtrArray) files = sb_report_files (analysis, evidence, sheet, error);
  g_autoptr (GPtrArray) kept = g_ptr_array_new_with_free_func (g_free);
  gboolean written = files != NULL && sb_report_folder_write (files, folder, kept, error);
  for (guint i = 0; i < kept->len; i++)
    g_printerr ("slewbench: %s/%s stays: it is of a former report, but was changed since. It is no part of this one.\n",
                folder, (const char *) g_ptr_array_index (kept, i));
  return written;
}

SbExitStatus
sb_command_report (char **arguments)
{
  g_auto (SbNumberOptions) numbers;
  g_auto (SbChartOptions) chart;
  sb_number_options_init (&numbers);
  sb_chart_options_init (&chart);
  g_autofree char *folder = NULL, *sheet_word = NULL;
  SbPaperSize sheet = SB_PAPER_SIZE_A4;
  gboolean bundle = FALSE;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &folder, "Folder for the report; made when it is not there", "FOLDER" },
    { "bundle", 0, 0, G_OPTION_ARG_NONE, &bundle,
      "One archive in place of a folder: the report, the logs and their session; it opens as a session", NULL },
    { "sheet", 0, 0, G_OPTION_ARG_STRING, &sheet_word, "Paper of report.pdf: a4 or letter (a4)", "NAME" },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  SbAnalysisCommand command = {
    "report",
    "-o FOLDER INPUT... - a report in a folder, or in one archive with its logs",
    "Writes the chart (PNG, SVG, PDF), the measures (text, CSV, Markdown, LaTeX, JSON), the mean curves (CSV), the\n"
    "methods text, the whole report as a self-contained page (report.html) and on paper (report.pdf), and the\n"
    "checksums of all of them.",
    entries,
  };
  if (!sb_arguments_parse_analysis (&command, &numbers, &chart, arguments))
    return SB_EXIT_USAGE;
  if (folder == NULL)
    return sb_arguments_wrong ("report", "say where the report goes: -o FOLDER.");
  if (sheet_word != NULL && !sb_paper_size_from_key (sheet_word, &sheet))
    return sb_arguments_wrong ("report", "--sheet takes a4 or letter.");
  if (bundle && !sb_bundle_is_name (folder))
    return sb_arguments_wrong ("report", "a bundle is a ZIP archive: -o FILE.zip --bundle.");

  g_autoptr (SbAnalysis) analysis = NULL;
  SbExitStatus status = sb_arguments_analyse ("report", &numbers, &chart, &analysis);
  if (analysis == NULL)
    return status;
  g_autoptr (SbChartModel) model = sb_chart_model_new (analysis, sb_chart_options_evidence (&chart));
  sb_chart_model_set_paper (model, &analysis->bench->chart.paper);
  sb_arguments_say_left_out (model, &analysis->bench->chart.paper);
  g_autoptr (GError) error = NULL;
  if (bundle ? sb_report_bundle (analysis, sb_chart_options_evidence (&chart), sheet, folder, &error)
             : write_report (analysis, sb_chart_options_evidence (&chart), sheet, folder, &error))
    return status;
  return sb_arguments_chart_failed ("report", error);
}
