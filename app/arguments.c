/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arguments.h"

#include "chart_fit.h"
#include "measure_words.h"

#include <math.h>
#include <string.h>

void
sb_number_options_init (SbNumberOptions *options)
{
  *options = (SbNumberOptions){
    .slope_window_ms = NAN,
    .smoothing_ms = NAN,
    .settling_band_percent = NAN,
    .band_k = NAN,
    .verdict_level = NAN,
    .audit_level = NAN,
    .audit_proportion_percent = NAN,
    .audit_straight_percent = NAN,
  };
  sb_layout_options_init (&options->layout);
}

void
sb_number_options_clear (SbNumberOptions *options)
{
  g_free (options->band);
  g_free (options->span);
  g_free (options->steps);
  g_free (options->units);
  g_free (options->plan);
  g_strfreev (options->margin);
  g_free (options->reference);
  g_free (options->other);
  g_strfreev (options->exclude);
  g_strfreev (options->onset);
  g_strfreev (options->audit);
  g_strfreev (options->claim);
  g_strfreev (options->word);
  sb_layout_options_clear (&options->layout);
  g_strfreev (options->inputs);
}

void
sb_chart_options_init (SbChartOptions *options)
{
  *options = (SbChartOptions){
    .from_s = NAN,
    .moving_band_ms = NAN,
    .to_s = NAN,
    .width_mm = NAN,
    .height_mm = NAN,
    .dpi = NAN,
    .font_pt = NAN,
  };
}

void
sb_chart_options_clear (SbChartOptions *options)
{
  g_free (options->panels);
  g_free (options->title);
  g_free (options->evidence);
  g_free (options->paper);
  g_free (options->ground);
  g_free (options->legend);
  g_free (options->labels);
  sb_view_options_clear (&options->view);
}

/* Names and titles are taken as file names are, byte for byte: as strings they would be converted from the locale, and
 * the plain locale of timers and scripts has no letters beyond ASCII. */

static void
add_number_options (GOptionContext *context, SbNumberOptions *o)
{
  GOptionEntry entries[] = {
    { "reference", 0, 0, G_OPTION_ARG_FILENAME, &o->reference, "Compare against this configuration (the first)",
      "NAME" },
    { "other", 0, 0, G_OPTION_ARG_FILENAME, &o->other, "Compare this configuration (the second)", "NAME" },
    { "exclude", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->exclude,
      "Leave this log, or this step of it, out, for this reason; may be repeated", "FILE[@STEP][=REASON]" },
    { "onset", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->onset,
      "Place the onset of this log, or of this step of it, by hand, at this time of the log; may be repeated",
      "FILE[@STEP]=S" },
    { "steps", 0, 0, G_OPTION_ARG_STRING, &o->steps,
      "Of a log with several steps, make each a trial or measure the first alone: all or first (all)", "KIND" },
    { "slope-window", 0, 0, G_OPTION_ARG_DOUBLE, &o->slope_window_ms, "Slope window (the larger of 5 samples and 1 ms)",
      "MS" },
    { "smoothing", 0, 0, G_OPTION_ARG_DOUBLE, &o->smoothing_ms, "Moving mean on the velocity before its peak (none)",
      "MS" },
    { "settling-band", 0, 0, G_OPTION_ARG_DOUBLE, &o->settling_band_percent,
      "Half width of the settling band (2 % of the step)", "PERCENT" },
    { "band", 0, 0, G_OPTION_ARG_STRING, &o->band, "sd, confidence, range or quartiles (sd)", "KIND" },
    { "band-k", 0, 0, G_OPTION_ARG_DOUBLE, &o->band_k, "Half width of the sd band in standard deviations (1)", "K" },
    { "span", 0, 0, G_OPTION_ARG_STRING, &o->span,
      "Average over what all repeats cover or any: common or union (common)", "KIND" },
    { "units", 0, 0, G_OPTION_ARG_FILENAME, &o->units,
      "Show slopes in N·m/ms or N·m/s, velocities in rad/s, rpm or deg/s (N·m/ms,rad/s); the JSON stays in SI",
      "LIST" },
    { "margin", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->margin,
      "What counts as practically equal (5 % of the reference), in all measures or in one, as a share or in its unit "
      "of "
      "the table; may be repeated",
      "[KEY=]PERCENT%|KEY=VALUE" },
    { "verdict-level", 0, 0, G_OPTION_ARG_DOUBLE, &o->verdict_level, "Level of the verdicts on the two compared (0.05)",
      "P" },
    { "difference-curves", 0, 0, G_OPTION_ARG_NONE, &o->difference_curves,
      "Give the difference of the mean curves with its bands at each instant, in the JSON", NULL },
    { "plan", 0, 0, G_OPTION_ARG_STRING, &o->plan,
      "Plan repeats that see a difference of so many percent of the reference, or of the margin", "PERCENT|margin" },
    { "audit", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->audit,
      "Audit this setting, or 'rotation range'; may be repeated (each that differs while all else is alike)",
      "SETTING" },
    { "audit-level", 0, 0, G_OPTION_ARG_DOUBLE, &o->audit_level,
      "Level at which a measure moves with an audited setting (0.01)", "P" },
    { "audit-proportion", 0, 0, G_OPTION_ARG_DOUBLE, &o->audit_proportion_percent,
      "Slopes are in proportion to the levels of a setting, and to what these state, within this share (10 %)",
      "PERCENT" },
    { "audit-straight", 0, 0, G_OPTION_ARG_DOUBLE, &o->audit_straight_percent,
      "A rise is straight when its quarters are as steep as all of it within this share (15 %)", "PERCENT" },
    { "verdict-word", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->word,
      "Show this verdict in words of your own, as in 'practically equal=equivalent'; may be repeated; the JSON keeps "
      "the usual ones",
      "VERDICT=WORDS" },
    { "claim", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->claim,
      "Check a stated figure, as in 'NAME: peak_torque_slope >= 2 N·m/ms', of the configuration or device NAME, or of "
      "all without NAME; also <=, and ~ for about, with ± TOLERANCE; may be repeated",
      "TEXT" },
    { "drive-model", 0, 0, G_OPTION_ARG_NONE, &o->drive_model,
      "Fit a model of the drive to each configuration's mean curves", NULL },
    { "drive-residuals", 0, 0, G_OPTION_ARG_NONE, &o->drive_residuals,
      "And give what that model leaves at each point, in the JSON", NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->inputs, NULL, NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_option_context_add_main_entries (context, entries, NULL);
}

static void
add_chart_options (GOptionContext *context, SbChartOptions *o)
{
  GOptionEntry entries[] = {
    { "panels", 0, 0, G_OPTION_ARG_STRING, &o->panels, "Of velocity, torque, angle, command (velocity,torque)",
      "LIST" },
    { "trial-lines", 0, 0, G_OPTION_ARG_NONE, &o->trial_lines, "A thin line for every repeat", NULL },
    { "evidence", 0, 0, G_OPTION_ARG_STRING, &o->evidence, "Mark where this measure comes from", "KEY" },
    { "labels", 0, 0, G_OPTION_ARG_STRING, &o->labels,
      "Name what the curves show: of peaks, slope, overshoot, ringing; all or none (none)", "LIST" },
    { "moving-band", 0, 0, G_OPTION_ARG_DOUBLE, &o->moving_band_ms,
      "Moving mean and standard deviation over this window for a lone repeat (none: its log as it is)", "MS" },
    { "from", 0, 0, G_OPTION_ARG_DOUBLE, &o->from_s, "Start of the time axis, after the onset", "S" },
    { "to", 0, 0, G_OPTION_ARG_DOUBLE, &o->to_s, "End of the time axis, after the onset", "S" },
    { "title", 0, 0, G_OPTION_ARG_FILENAME, &o->title, "Title above the chart (none)", "TEXT" },
    { "size", 0, 0, G_OPTION_ARG_STRING, &o->paper,
      "column (85 mm), page (170 mm), page-175, frame (16:9, 1920 × 1080), frame-2160 (3840 × 2160) or square; what "
      "follows goes before it (page-175)",
      "NAME" },
    { "ground", 0, 0, G_OPTION_ARG_STRING, &o->ground,
      "white, dark, transparent (for a light page) or transparent-dark (white)", "KIND" },
    { "grey", 0, 0, G_OPTION_ARG_NONE, &o->grey, "Greys in place of colours", NULL },
    { "legend", 0, 0, G_OPTION_ARG_STRING, &o->legend, "above, below, right or none (above)", "PLACE" },
    { "no-foot-line", 0, 0, G_OPTION_ARG_NONE, &o->no_foot,
      "Without the line that says what the bands are and which logs were read; it stays inside the file", NULL },
    { "width", 0, 0, G_OPTION_ARG_DOUBLE, &o->width_mm, "Printed width (175)", "MM" },
    { "height", 0, 0, G_OPTION_ARG_DOUBLE, &o->height_mm, "Printed height (120)", "MM" },
    { "dpi", 0, 0, G_OPTION_ARG_DOUBLE, &o->dpi, "Dots per inch of a PNG (300)", "DPI" },
    { "font-size", 0, 0, G_OPTION_ARG_DOUBLE, &o->font_pt, "Size of the axis numbers in print (8)", "PT" },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_option_context_add_main_entries (context, entries, NULL);
}

static void
say_wrong (const char *command, const char *what)
{
  g_printerr ("slewbench %s: %s\nTry 'slewbench %s --help'.\n", command, what, command);
}

SbExitStatus
sb_arguments_wrong (const char *command, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  say_wrong (command, what);
  return SB_EXIT_USAGE;
}

gboolean
sb_arguments_parse (GOptionContext *context, const char *command, char **arguments)
{
  /* GOption wants a program name first and takes strings out of the list, so it gets a list of its own. */
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_autofree char *name = g_strdup_printf ("slewbench %s", command);
  g_strv_builder_add (builder, name);
  for (gsize i = 0; arguments[i] != NULL; i++)
    g_strv_builder_add (builder, arguments[i]);
  g_auto (GStrv) list = g_strv_builder_end (builder);
  g_set_prgname (name);
  g_autoptr (GError) error = NULL;
  if (g_option_context_parse_strv (context, &list, &error))
    return TRUE;
  say_wrong (command, error->message);
  return FALSE;
}

gboolean
sb_arguments_parse_analysis (const SbAnalysisCommand *command, SbNumberOptions *numbers, SbChartOptions *chart,
                             char **arguments)
{
  g_autoptr (GOptionContext) context = g_option_context_new (command->use);
  g_autofree char *summary = g_strdup_printf (
      "%s\nINPUT is a session file, a folder of logs, a folder of such folders, or log files.", command->what);
  g_option_context_set_summary (context, summary);
  g_option_context_set_description (context, "Exit status: 0 done; 1 done, but some input was left out; 2 nothing "
                                             "could be done; 64 wrong use.\n");
  g_option_context_add_main_entries (context, command->entries, NULL);
  add_number_options (context, numbers);
  sb_layout_options_add (context, &numbers->layout);
  sb_view_options_add (context, &chart->view);
  add_chart_options (context, chart);
  return sb_arguments_parse (context, command->command, arguments);
}

int
sb_chart_options_evidence (const SbChartOptions *options)
{
  SbMeasureId id;
  return options->evidence != NULL && sb_measure_id_from_words (options->evidence, &id) ? (int) id : -1;
}

void
sb_arguments_say_left_out (const SbChartModel *model, const SbPaper *paper)
{
  g_autofree char *left_out = sb_chart_model_labels_left_out (model);
  if (left_out != NULL)
    g_printerr ("slewbench: %s.\n", left_out);
  SbChartSize size = sb_chart_size_of (paper);
  g_autofree char *advice = sb_chart_fit_advice (model, &size);
  if (advice != NULL)
    g_printerr ("slewbench: %s.\n", advice);
}

SbExitStatus
sb_arguments_chart_failed (const char *command, const GError *error)
{
  if (g_error_matches (error, SB_CHART_ERROR, SB_CHART_ERROR_SIZE))
    return sb_arguments_wrong (command, "%s", error->message);
  g_printerr ("slewbench: %s\n", error->message);
  return SB_EXIT_NOTHING;
}
