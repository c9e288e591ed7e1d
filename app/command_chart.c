/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "chart_export.h"

SbExitStatus
sb_command_chart (char **arguments)
{
  g_auto (SbNumberOptions) numbers;
  g_auto (SbChartOptions) chart;
  sb_number_options_init (&numbers);
  sb_chart_options_init (&chart);
  g_autofree char *path = NULL;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, "Where the chart goes; the ending says how",
      "FILE.(png|svg|pdf)" },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  SbAnalysisCommand command = {
    "chart",
    "-o FILE INPUT... - one chart",
    "Draws the mean curves and bands of the configurations as PNG, SVG or PDF.",
    entries,
  };
  if (!sb_arguments_parse_analysis (&command, &numbers, &chart, arguments))
    return SB_EXIT_USAGE;
  if (path == NULL)
    return sb_arguments_wrong ("chart", "say where the chart goes: -o FILE.png, .svg or .pdf.");
  g_autoptr (GError) error = NULL;
  SbChartFormat format;
  if (!sb_chart_format_from_path (path, &format, &error))
    return sb_arguments_wrong ("chart", "%s", error->message);

  g_autoptr (SbAnalysis) analysis = NULL;
  SbExitStatus status = sb_arguments_analyse ("chart", &numbers, &chart, &analysis);
  if (analysis == NULL)
    return status;
  g_autoptr (SbChartModel) model = sb_chart_model_new (analysis, sb_chart_options_evidence (&chart));
  sb_chart_model_set_paper (model, &analysis->bench->chart.paper);
  sb_arguments_say_left_out (model, &analysis->bench->chart.paper);
  SbChartSize size = sb_chart_size_of (&analysis->bench->chart.paper);
  if (sb_chart_export (model, path, &size, &error))
    return status;
  return sb_arguments_chart_failed ("chart", error);
}
