/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arguments.h"

#include "input.h"

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
    .margin_percent = NAN,
  };
}

void
sb_number_options_clear (SbNumberOptions *options)
{
  g_free (options->band);
  g_free (options->span);
  g_free (options->reference);
  g_free (options->other);
  g_strfreev (options->exclude);
  g_strfreev (options->inputs);
}

void
sb_chart_options_init (SbChartOptions *options)
{
  SbChartSize page = SB_CHART_SIZE_PAGE;
  *options = (SbChartOptions){
    .from_s = NAN,
    .to_s = NAN,
    .width_mm = page.width_mm,
    .height_mm = page.height_mm,
    .dpi = page.dpi,
    .font_pt = page.font_pt,
  };
}

void
sb_chart_options_clear (SbChartOptions *options)
{
  g_free (options->panels);
  g_free (options->title);
  g_free (options->evidence);
}

/* Names and titles are taken as file names are, byte for byte: as strings they would be converted from the locale, and
 * the plain locale of timers and scripts has no letters beyond ASCII. */

void
sb_number_options_add (GOptionContext *context, SbNumberOptions *o)
{
  GOptionEntry entries[] = {
    { "reference", 0, 0, G_OPTION_ARG_FILENAME, &o->reference, "Compare against this configuration (the first)",
      "NAME" },
    { "other", 0, 0, G_OPTION_ARG_FILENAME, &o->other, "Compare this configuration (the second)", "NAME" },
    { "exclude", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->exclude, "Leave this log out, for this reason; may be repeated",
      "FILE[=REASON]" },
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
    { "margin", 0, 0, G_OPTION_ARG_DOUBLE, &o->margin_percent,
      "What counts as practically equal (5 % of the reference)", "PERCENT" },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->inputs, NULL, NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_option_context_add_main_entries (context, entries, NULL);
}

void
sb_chart_options_add (GOptionContext *context, SbChartOptions *o)
{
  GOptionEntry entries[] = {
    { "panels", 0, 0, G_OPTION_ARG_STRING, &o->panels, "Of velocity, torque, angle, command (velocity,torque)",
      "LIST" },
    { "trial-lines", 0, 0, G_OPTION_ARG_NONE, &o->trial_lines, "A thin line for every repeat", NULL },
    { "evidence", 0, 0, G_OPTION_ARG_STRING, &o->evidence, "Mark where this measure comes from", "KEY" },
    { "from", 0, 0, G_OPTION_ARG_DOUBLE, &o->from_s, "Start of the time axis, after the onset", "S" },
    { "to", 0, 0, G_OPTION_ARG_DOUBLE, &o->to_s, "End of the time axis, after the onset", "S" },
    { "title", 0, 0, G_OPTION_ARG_FILENAME, &o->title, "Title above the chart (none)", "TEXT" },
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

/* From options to choices */

/* A word among the keys of an enum; -1 when it is none of them. */
static int
find_band (const char *word)
{
  for (int b = 0; b < SB_N_BANDS; b++)
    if (strcmp (sb_band_key ((SbBandKind) b), word) == 0)
      return b;
  return -1;
}

typedef struct {
  const char *option;
  double value, factor, least, most; /* least and most in the option's unit */
  double *target;
} NumberOption;

static const char *
apply_numbers (const SbNumberOptions *o, SbBench *bench)
{
  NumberOption numbers[] = {
    { "--slope-window", o->slope_window_ms, 1e-3, 1e-6, 1e4, &bench->measure.slope_window_s },
    { "--smoothing", o->smoothing_ms, 1e-3, 0, 1e4, &bench->measure.smoothing_s },
    { "--settling-band", o->settling_band_percent, 1e-2, 0.01, 50, &bench->measure.settling_band_ratio },
    { "--band-k", o->band_k, 1, 0.1, 10, &bench->band_k },
    { "--margin", o->margin_percent, 1e-2, 1e-4, 100, &bench->margin_ratio },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++) {
    const NumberOption *number = &numbers[i];
    if (isnan (number->value))
      continue;
    if (!(number->value >= number->least && number->value <= number->most))
      return number->option;
    *number->target = number->value * number->factor;
  }
  if (o->band != NULL) {
    int band = find_band (o->band);
    if (band < 0)
      return "--band";
    bench->band = (SbBandKind) band;
  }
  if (o->span != NULL) {
    if (strcmp (o->span, "common") != 0 && strcmp (o->span, "union") != 0)
      return "--span";
    bench->span = strcmp (o->span, "union") == 0 ? SB_SPAN_UNION : SB_SPAN_COMMON;
  }
  return NULL;
}

static guint
panel_of_word (const char *word)
{
  for (int p = 0; p < SB_N_PANELS; p++)
    if (strcmp (sb_channel_key (sb_panel_channel ((SbPanel) p)), word) == 0)
      return 1u << p;
  return 0;
}

/* The option that is wrong, or NULL. */
static const char *
apply_chart (const SbChartOptions *o, SbBench *bench)
{
  SbChartChoices *chart = &bench->chart;
  if (o->panels != NULL) {
    g_auto (GStrv) words = g_strsplit (o->panels, ",", -1);
    chart->panels = 0;
    for (gsize i = 0; words[i] != NULL; i++) {
      guint panel = panel_of_word (g_strstrip (words[i]));
      if (panel == 0)
        return "--panels";
      chart->panels |= panel;
    }
    if (chart->panels == 0)
      return "--panels";
  }
  chart->trial_lines = chart->trial_lines || o->trial_lines;
  if (!isnan (o->from_s))
    chart->view_s[0] = o->from_s;
  if (!isnan (o->to_s))
    chart->view_s[1] = o->to_s;
  if (chart->view_s[0] >= chart->view_s[1])
    return "--from";
  if (o->title != NULL) {
    if (!g_utf8_validate (o->title, -1, NULL))
      return "--title";
    g_free (chart->title);
    chart->title = g_strdup (o->title);
  }
  if (o->evidence != NULL && sb_chart_options_evidence (o) < 0)
    return "--evidence";
  return NULL;
}

int
sb_chart_options_evidence (const SbChartOptions *options)
{
  SbMeasureId id;
  return options->evidence != NULL && sb_measure_id_from_key (options->evidence, &id) ? (int) id : -1;
}

SbExitStatus
sb_arguments_chart_failed (const char *command, const GError *error)
{
  if (g_error_matches (error, SB_CHART_ERROR, SB_CHART_ERROR_SIZE))
    return sb_arguments_wrong (command, "%s", error->message);
  g_printerr ("slewbench: %s\n", error->message);
  return SB_EXIT_NOTHING;
}

SbChartSize
sb_chart_options_size (const SbChartOptions *options)
{
  return (SbChartSize){ options->width_mm, options->height_mm, options->dpi, options->font_pt };
}

static int
find_configuration (const SbBench *bench, const char *name)
{
  for (guint c = 0; c < bench->configurations->len; c++)
    if (strcmp (sb_bench_configuration (bench, c)->name, name) == 0)
      return (int) c;
  return -1;
}

/* The name that no configuration has, or NULL. The chosen reference and the other are never the same by default. */
static const char *
apply_roles (const SbNumberOptions *o, SbBench *bench)
{
  if (o->reference != NULL && (bench->reference = find_configuration (bench, o->reference)) < 0)
    return o->reference;
  if (o->other != NULL && (bench->other = find_configuration (bench, o->other)) < 0)
    return o->other;
  if (bench->reference != bench->other || bench->configurations->len < 2)
    return NULL;
  int *moved = o->other != NULL ? &bench->reference : &bench->other;
  *moved = bench->reference == 0 ? 1 : 0;
  return NULL;
}

/* FALSE when no log is called so: by its base name, or by the end of its path when the base name alone is not enough.
 */
static gboolean
exclude_log (SbBench *bench, const char *file, const char *reason)
{
  gboolean found = FALSE;
  g_autofree char *ending = g_strconcat ("/", file, NULL);
  for (guint c = 0; c < bench->configurations->len; c++) {
    SbConfiguration *configuration = sb_bench_edit_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (!g_str_has_suffix (entry->path, ending) && strcmp (entry->path, file) != 0)
        continue;
      entry->included = FALSE;
      g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
      entry->exclusion_reason = reason != NULL ? g_ref_string_new (reason) : NULL;
      found = TRUE;
    }
  }
  return found;
}

/* The file that is not among the logs, or NULL. */
static const char *
apply_exclusions (const SbNumberOptions *o, SbBench *bench)
{
  for (gsize i = 0; o->exclude != NULL && o->exclude[i] != NULL; i++) {
    const char *equals = strchr (o->exclude[i], '=');
    g_autofree char *file
        = equals != NULL ? g_strndup (o->exclude[i], (gsize) (equals - o->exclude[i])) : g_strdup (o->exclude[i]);
    if (!exclude_log (bench, file, equals != NULL ? equals + 1 : NULL))
      return o->exclude[i];
  }
  return NULL;
}

static SbExitStatus
apply_options (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart, SbBench *bench)
{
  const char *wrong = apply_numbers (numbers, bench);
  if (wrong == NULL && chart != NULL)
    wrong = apply_chart (chart, bench);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "the value of %s is not one it can take.", wrong);
  wrong = apply_roles (numbers, bench);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "no configuration is called '%s'.", wrong);
  wrong = apply_exclusions (numbers, bench);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "no log is called '%s'.", wrong);
  return SB_EXIT_DONE;
}

/* What was left out */

static gboolean
say_left_out (const SbTrialResult *trial)
{
  if (trial->failure != NULL) {
    g_printerr ("slewbench: left out: %s\n", trial->failure);
    return TRUE;
  }
  if (trial->facts == NULL || trial->facts->n_rows_left_out == 0)
    return FALSE;
  const SbFault *first = trial->facts->faults->len > 0 ? g_ptr_array_index (trial->facts->faults, 0) : NULL;
  g_printerr ("slewbench: %s: %" G_GSIZE_FORMAT " row%s left out", trial->path, trial->facts->n_rows_left_out,
              trial->facts->n_rows_left_out == 1 ? "" : "s");
  if (first != NULL)
    g_printerr ("; the first fault is at line %" G_GUINT64_FORMAT ": %s", first->line, first->what);
  g_printerr ("\n");
  return TRUE;
}

static SbExitStatus
status_of (const SbAnalysis *analysis)
{
  SbExitStatus status = SB_EXIT_DONE;
  gsize n_used = 0;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    n_used += configuration->n_used;
    for (guint t = 0; t < configuration->trials->len; t++)
      if (say_left_out (sb_configuration_result_trial (configuration, t)))
        status = SB_EXIT_LEFT_OUT;
  }
  return n_used > 0 ? status : SB_EXIT_NOTHING;
}

static gboolean
has_lone_trial (const SbBench *bench)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    guint n_included = 0;
    for (guint t = 0; t < configuration->entries->len; t++)
      n_included += sb_configuration_entry (configuration, t)->included ? 1 : 0;
    if (n_included == 1)
      return TRUE;
  }
  return FALSE;
}

/* Whole trials are needed for quartiles, for a line per repeat, for the marked trial of the evidence, and for the
 * moving band of a lone repeat. `chart` is NULL when none is drawn. */
static gboolean
needs_trials (const SbBench *bench, const SbChartOptions *chart)
{
  if (bench->band == SB_BAND_QUARTILES)
    return TRUE;
  if (chart == NULL)
    return FALSE;
  return bench->chart.trial_lines || chart->evidence != NULL || (bench->chart.moving_band && has_lone_trial (bench));
}

SbExitStatus
sb_arguments_analyse (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart,
                      SbAnalysis **analysis)
{
  if (numbers->inputs == NULL || numbers->inputs[0] == NULL)
    return sb_arguments_wrong (command, "name a session file, folders or log files.");
  g_autoptr (SbBench) bench = sb_bench_new ();
  g_autoptr (GError) error = NULL;
  SbExitStatus left_out = SB_EXIT_DONE;
  if (!sb_input_add (bench, (const char *const *) numbers->inputs, g_strv_length (numbers->inputs), NULL, &error)) {
    g_printerr ("slewbench: %s\n", error->message);
    if (sb_bench_is_empty (bench))
      return SB_EXIT_NOTHING;
    left_out = SB_EXIT_LEFT_OUT;
  }
  SbExitStatus wrong = apply_options (command, numbers, chart, bench);
  if (wrong != SB_EXIT_DONE)
    return wrong;

  SbAnalysisFlags flags = needs_trials (bench, chart) ? SB_ANALYSIS_KEEP_TRIALS : SB_ANALYSIS_DEFAULT;
  g_autoptr (SbAnalysis) result = sb_analysis_run (bench, NULL, flags, NULL, NULL, NULL, &error);
  if (result == NULL) {
    g_printerr ("slewbench: %s\n", error->message);
    return SB_EXIT_NOTHING;
  }
  SbExitStatus status = status_of (result);
  if (status != SB_EXIT_NOTHING)
    *analysis = g_steal_pointer (&result);
  else
    g_printerr ("slewbench: no usable trial in what was given.\n");
  return status == SB_EXIT_DONE ? left_out : status;
}
