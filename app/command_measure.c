/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "chart_export.h"
#include "measure_words.h"
#include "results.h"
#include "results_markup.h"

#include <stdio.h>
#include <string.h>

/* What is asked for besides the options of every analysis. */
typedef struct {
  gboolean json, csv;
  int markup; /* SbMarkup, -1: none */
  char *format_word, *explain, *chart_path;
  SbMeasureId explained; /* SB_N_MEASURES: none */
} Wanted;

static void
wanted_clear (Wanted *wanted)
{
  g_free (wanted->format_word);
  g_free (wanted->explain);
  g_free (wanted->chart_path);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wanted, wanted_clear)

static gboolean
read_format (Wanted *wanted)
{
  const char *word = wanted->format_word;
  for (int m = 0; m < SB_N_MARKUPS; m++)
    if (strcmp (word, sb_markup_key ((SbMarkup) m)) == 0)
      wanted->markup = m;
  wanted->json = wanted->json || strcmp (word, "json") == 0;
  wanted->csv = wanted->csv || strcmp (word, "csv") == 0;
  return wanted->markup >= 0 || strcmp (word, "json") == 0 || strcmp (word, "csv") == 0 || strcmp (word, "text") == 0;
}

/* SB_EXIT_DONE, or what the wrong wish makes of the run; it has been said then. */
static SbExitStatus
read_wanted (Wanted *wanted)
{
  if (wanted->format_word != NULL && !read_format (wanted))
    return sb_arguments_wrong ("measure", "--format takes text, csv, json, markdown, html or latex.");
  if (wanted->format_word != NULL && wanted->explain != NULL)
    return sb_arguments_wrong ("measure", "--explain is text: it goes with no --format.");
  if ((wanted->json || wanted->csv) && wanted->markup >= 0)
    return sb_arguments_wrong ("measure", "--json and --csv go with no other --format.");
  if (wanted->json && wanted->csv)
    return sb_arguments_wrong ("measure", "--json and --csv exclude each other.");
  if ((wanted->json || wanted->csv) && wanted->explain != NULL)
    return sb_arguments_wrong ("measure", "--explain is text: it goes with neither --json nor --csv.");
  if (wanted->explain != NULL && !sb_measure_id_from_words (wanted->explain, &wanted->explained)) {
    g_autofree char *unknown = sb_measure_unknown_words (wanted->explain);
    return sb_arguments_wrong ("measure", "--explain: %s.", unknown);
  }
  g_autoptr (GError) error = NULL;
  SbChartFormat format;
  if (wanted->chart_path != NULL && !sb_chart_format_from_path (wanted->chart_path, &format, &error))
    return sb_arguments_wrong ("measure", "%s", error->message);
  return SB_EXIT_DONE;
}

static gboolean
write_chart (SbAnalysis *analysis, const SbChartOptions *chart, const char *path, GError **error)
{
  g_autoptr (SbChartModel) model = sb_chart_model_new (analysis, sb_chart_options_evidence (chart));
  sb_chart_model_set_paper (model, &analysis->bench->chart.paper);
  SbChartSize size = sb_chart_size_of (&analysis->bench->chart.paper);
  return sb_chart_export (model, path, &size, error);
}

static char *
text_of (SbAnalysis *analysis, const Wanted *wanted)
{
  if (wanted->explain != NULL)
    return sb_results_explain (analysis, wanted->explained);
  if (wanted->json)
    return sb_results_json (analysis);
  if (wanted->csv)
    return sb_results_table_csv (analysis);
  if (wanted->markup >= 0)
    return sb_results_table_markup (analysis, (SbMarkup) wanted->markup);
  return sb_results_table_text (analysis);
}

SbExitStatus
sb_command_measure (char **arguments)
{
  g_auto (SbNumberOptions) numbers;
  g_auto (SbChartOptions) chart;
  sb_number_options_init (&numbers);
  sb_chart_options_init (&chart);
  g_auto (Wanted) wanted = { .markup = -1, .explained = SB_N_MEASURES };
  GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &wanted.json, "Everything as JSON, in SI units", NULL },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &wanted.csv, "A row per configuration and measure, in display units", NULL },
    { "format", 0, 0, G_OPTION_ARG_STRING, &wanted.format_word,
      "text, markdown, html or latex: the table, rounded, for pasting; csv, json: as --csv and --json (text)", "KIND" },
    { "explain", 0, 0, G_OPTION_ARG_STRING, &wanted.explain,
      "How this measure was come by: definition, window, points, intermediate figures, doubts and source", "KEY" },
    { "chart", 0, 0, G_OPTION_ARG_FILENAME, &wanted.chart_path,
      "Write the chart too, from the same reading of the logs", "FILE.(png|svg|pdf)" },
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
  SbExitStatus status = read_wanted (&wanted);
  if (status != SB_EXIT_DONE)
    return status;

  g_autoptr (SbAnalysis) analysis = NULL;
  status = sb_arguments_analyse ("measure", &numbers, wanted.chart_path != NULL ? &chart : NULL, &analysis);
  if (analysis == NULL)
    return status;
  /* The chart first: when it cannot be written, status 2 says that nothing was done, and stdout is empty. */
  g_autoptr (GError) error = NULL;
  if (wanted.chart_path != NULL && !write_chart (analysis, &chart, wanted.chart_path, &error))
    return sb_arguments_chart_failed ("measure", error);
  g_autofree char *text = text_of (analysis, &wanted);
  fputs (text, stdout);
  return status;
}
