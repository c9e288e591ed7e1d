/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "chart_export.h"
#include "report_page.h"
#include "results.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

/* Files of the report, and the list of their checksums that `sha256sum -c` accepts. */
typedef struct {
  const char *folder;
  GString *checksums;
  GError *error; /* the first one */
} Writer;

static void
write_bytes (Writer *writer, const char *name, const void *bytes, gsize n_bytes)
{
  if (writer->error != NULL)
    return;
  g_autofree char *path = g_build_filename (writer->folder, name, NULL);
  if (!g_file_set_contents_full (path, bytes, (gssize) n_bytes, G_FILE_SET_CONTENTS_CONSISTENT, 0644, &writer->error))
    return;
  g_autofree char *sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, bytes, n_bytes);
  g_string_append_printf (writer->checksums, "%s  %s\n", sum, name);
}

static void
write_text (Writer *writer, const char *name, char *text)
{
  g_autofree char *owned = text;
  write_bytes (writer, name, owned, strlen (owned));
}

static void
write_chart (Writer *writer, const char *name, const SbChartModel *model, SbChartFormat format, const SbChartSize *size)
{
  if (writer->error != NULL)
    return;
  g_autoptr (GBytes) bytes = sb_chart_render (model, format, size, &writer->error);
  if (bytes != NULL)
    write_bytes (writer, name, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
}

static gboolean
write_report (SbAnalysis *analysis, const SbChartOptions *chart, const char *folder, GError **error)
{
  g_autoptr (SbChartModel) model = sb_chart_model_new (analysis, sb_chart_options_evidence (chart));
  sb_chart_model_set_paper (model, &analysis->bench->chart.paper);
  SbChartSize size = sb_chart_size_of (&analysis->bench->chart.paper);
  g_autoptr (GBytes) svg = sb_chart_render (model, SB_CHART_SVG, &size, error);
  if (svg == NULL)
    return FALSE;
  g_autoptr (GString) checksums = g_string_new (NULL);
  Writer writer = { .folder = folder, .checksums = checksums };
  write_bytes (&writer, "chart.svg", g_bytes_get_data (svg, NULL), g_bytes_get_size (svg));
  write_chart (&writer, "chart.png", model, SB_CHART_PNG, &size);
  write_chart (&writer, "chart.pdf", model, SB_CHART_PDF, &size);
  write_text (&writer, "measures.txt", sb_results_table_text (analysis));
  write_text (&writer, "measures.csv", sb_results_table_csv (analysis));
  write_text (&writer, "results.json", sb_results_json (analysis));
  write_text (&writer, "methods.txt", sb_results_methods_text (analysis));
  write_text (&writer, "report.html", sb_report_page (analysis, svg));
  g_autofree char *list = g_strdup (checksums->str);
  write_bytes (&writer, "SHA256SUMS", list, strlen (list));
  if (writer.error == NULL)
    return TRUE;
  g_propagate_error (error, writer.error);
  return FALSE;
}

SbExitStatus
sb_command_report (char **arguments)
{
  g_auto (SbNumberOptions) numbers;
  g_auto (SbChartOptions) chart;
  sb_number_options_init (&numbers);
  sb_chart_options_init (&chart);
  g_autofree char *folder = NULL;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &folder, "Folder for the report; made when it is not there", "FOLDER" },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  SbAnalysisCommand command = {
    "report",
    "-o FOLDER INPUT... - a report in a folder",
    "Writes the chart (PNG, SVG, PDF), the measures (text, CSV, JSON), the methods text, one self-contained\n"
    "page (report.html) and the checksums of all of them.",
    entries,
  };
  if (!sb_arguments_parse_analysis (&command, &numbers, &chart, arguments))
    return SB_EXIT_USAGE;
  if (folder == NULL)
    return sb_arguments_wrong ("report", "say where the report goes: -o FOLDER.");

  g_autoptr (SbAnalysis) analysis = NULL;
  SbExitStatus status = sb_arguments_analyse ("report", &numbers, &chart, &analysis);
  if (analysis == NULL)
    return status;
  if (g_mkdir_with_parents (folder, 0755) != 0) {
    g_printerr ("slewbench: the folder %s cannot be made: %s\n", folder, g_strerror (errno));
    return SB_EXIT_NOTHING;
  }
  g_autoptr (GError) error = NULL;
  if (write_report (analysis, &chart, folder, &error))
    return status;
  return sb_arguments_chart_failed ("report", error);
}
