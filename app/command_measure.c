/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "chart_export.h"
#include "results.h"
#include "results_markup.h"

#include <stdio.h>
#include <string.h>

static gboolean
read_format (const char *word, gboolean *json, gboolean *csv, int *markup)
{
  for (int m = 0; m < SB_N_MARKUPS; m++)
    if (strcmp (word, sb_markup_key ((SbMarkup) m)) == 0)
      *markup = m;
  *json = *json || strcmp (word, "json") == 0;
  *csv = *csv || strcmp (word, "csv") == 0;
  return *markup >= 0 || strcmp (word, "json") == 0 || strcmp (word, "csv") == 0 || strcmp (word, "text") == 0;
}

SbExitStatus
sb_command_measure (char **arguments)
{
  g_auto (SbNumberOptions) numbers;
  g_auto (SbChartOptions) chart;
  sb_number_options_init (&numbers);
  sb_chart_options_init (&chart);
  gboolean json = FALSE, csv = FALSE;
  g_autofree char *chart_path = NULL, *explain = NULL, *format_word = NULL;
  int markup = -1;
  SbMeasureId explained = SB_N_MEASURES;
  GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, "Everything as JSON, in SI units", NULL },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &csv, "A row per configuration and measure, in display units", NULL },
    { "format", 0, 0, G_OPTION_ARG_STRING, &format_word,
      "text, markdown, html or latex: the table, rounded, for pasting; csv, json: as --csv and --json (text)", "KIND" },
    { "explain", 0, 0, G_OPTION_ARG_STRING, &explain,
      "How this measure was come by: definition, window, points, intermediate figures, doubts and source", "KEY" },
    { "chart", 0, 0, G_OPTION_ARG_FILENAME, &chart_path, "Write the chart too, from the same reading of the logs",
      "FILE.(png|svg|pdf)" },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  SbAnalysisCommand command = {
    "measure",
    "INPUT... - measures of each configuration",
    "Prints the measures of each configuration and, with two or more, the comparison of two of them.",
    entries,
  };
  if (!sb_arguments_parse_analysis (&command, &numbers, &chart, arguments))
    return SB_EXIT_USAGE;
  if (format_word != NULL && !read_format (format_word, &json, &csv, &markup))
    return sb_arguments_wrong ("measure", "--format takes text, csv, json, markdown, html or latex.");
  if (format_word != NULL && explain != NULL)
    return sb_arguments_wrong ("measure", "--explain is text: it goes with no --format.");
  if ((json || csv) && markup >= 0)
    return sb_arguments_wrong ("measure", "--json and --csv go with no other --format.");
  if (json && csv)
    return sb_arguments_wrong ("measure", "--json and --csv exclude each other.");
  if ((json || csv) && explain != NULL)
    return sb_arguments_wrong ("measure", "--explain is text: it goes with neither --json nor --csv.");
  if (explain != NULL && !sb_measure_id_from_key (explain, &explained))
    return sb_arguments_wrong ("measure", "no measure is called '%s'; the keys are those of --csv.", explain);
  g_autoptr (GError) error = NULL;
  SbChartFormat format;
  if (chart_path != NULL && !sb_chart_format_from_path (chart_path, &format, &error))
    return sb_arguments_wrong ("measure", "%s", error->message);

  g_autoptr (SbAnalysis) analysis = NULL;
  SbExitStatus status = sb_arguments_analyse ("measure", &numbers, chart_path != NULL ? &chart : NULL, &analysis);
  if (analysis == NULL)
    return status;
  /* The chart first: when it cannot be written, status 2 says that nothing was done, and stdout is empty. */
  if (chart_path != NULL) {
    g_autoptr (SbChartModel) model = sb_chart_model_new (analysis, sb_chart_options_evidence (&chart));
    sb_chart_model_set_paper (model, &analysis->bench->chart.paper);
    SbChartSize size = sb_chart_size_of (&analysis->bench->chart.paper);
    if (!sb_chart_export (model, chart_path, &size, &error))
      return sb_arguments_chart_failed ("measure", error);
  }
  g_autofree char *text = explain != NULL ? sb_results_explain (analysis, explained)
                          : json          ? sb_results_json (analysis)
                          : csv           ? sb_results_table_csv (analysis)
                          : markup >= 0   ? sb_results_table_markup (analysis, (SbMarkup) markup)
                                          : sb_results_table_text (analysis);
  fputs (text, stdout);
  return status;
}
