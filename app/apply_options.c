/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "apply_options.h"

#include <math.h>
#include <string.h>

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

/* What is wrong, as a sentence, or NULL; likewise below. (transfer full) */
static char *
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
      return g_strdup_printf ("%s takes a number from %.6g to %.6g.", number->option, number->least, number->most);
    *number->target = number->value * number->factor;
  }
  return NULL;
}

static char *
apply_words (const SbNumberOptions *o, SbBench *bench)
{
  if (o->band != NULL) {
    int band = find_band (o->band);
    if (band < 0)
      return g_strdup ("--band takes sd, confidence, range or quartiles.");
    bench->band = (SbBandKind) band;
  }
  if (o->span != NULL) {
    if (strcmp (o->span, "common") != 0 && strcmp (o->span, "union") != 0)
      return g_strdup ("--span takes common or union.");
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

static char *
apply_panels (const char *list, SbBench *bench)
{
  guint panels = 0;
  g_auto (GStrv) words = g_strsplit (list, ",", -1);
  for (gsize i = 0; words[i] != NULL; i++) {
    guint panel = panel_of_word (g_strstrip (words[i]));
    if (panel == 0)
      return g_strdup ("--panels takes velocity, torque, angle and command, with commas between them.");
    panels |= panel;
  }
  if (panels == 0)
    return g_strdup ("--panels names no panel.");
  bench->chart.panels = panels;
  return NULL;
}

static char *
apply_chart (const SbChartOptions *o, SbBench *bench)
{
  SbChartChoices *chart = &bench->chart;
  char *wrong = o->panels != NULL ? apply_panels (o->panels, bench) : NULL;
  if (wrong != NULL)
    return wrong;
  chart->trial_lines = chart->trial_lines || o->trial_lines;
  if (!isnan (o->from_s))
    chart->view_s[0] = o->from_s;
  if (!isnan (o->to_s))
    chart->view_s[1] = o->to_s;
  if (chart->view_s[0] >= chart->view_s[1])
    return g_strdup ("the time axis has to start (--from) before it ends (--to).");
  if (!isnan (o->moving_band_ms)) {
    if (!(o->moving_band_ms >= 1e-3 && o->moving_band_ms <= 1e5))
      return g_strdup ("--moving-band takes a window from 0.001 to 100000 ms.");
    chart->moving_band = TRUE;
    bench->moving_window_s = o->moving_band_ms / 1000;
  }
  if (o->title != NULL) {
    if (!g_utf8_validate (o->title, -1, NULL))
      return g_strdup ("--title has to be text in UTF-8.");
    g_free (chart->title);
    chart->title = g_strdup (o->title);
  }
  if (o->evidence != NULL && sb_chart_options_evidence (o) < 0)
    return g_strdup_printf ("--evidence takes the key of a measure as in the JSON, such as %s.",
                            sb_measure_info (SB_MEASURE_PEAK_TORQUE_SLOPE)->key);
  return NULL;
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

static gboolean
is_called (const SbTrialEntry *entry, const char *file)
{
  g_autofree char *ending = g_strconcat ("/", file, NULL);
  return g_str_has_suffix (entry->path, ending) || strcmp (entry->path, file) == 0;
}

/* The entry called so, made the bench's own; NULL when there is none or, with *n above 1, several. */
static SbTrialEntry *
find_log (SbBench *bench, const char *file, guint *n)
{
  SbTrialEntry *found = NULL;
  *n = 0;
  for (guint c = 0; c < bench->configurations->len; c++) {
    SbConfiguration *configuration = sb_bench_edit_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (!is_called (entry, file))
        continue;
      found = entry;
      ++*n;
    }
  }
  return *n == 1 ? found : NULL;
}

static char *
explain_not_found (const char *file, guint n)
{
  if (n == 0)
    return g_strdup_printf ("no log is called '%s'.", file);
  return g_strdup_printf ("%u logs are called '%s'; write the folder before the name, as in 'FOLDER/%s'.", n, file,
                          file);
}

/* FILE, or FILE=REASON; a name that has a '=' itself is looked for first. NULL, or what is wrong with it. */
static char *
apply_exclusion (SbBench *bench, const char *exclusion)
{
  g_autofree char *file = g_strdup (exclusion);
  const char *reason = NULL;
  guint n;
  SbTrialEntry *entry = find_log (bench, file, &n);
  for (const char *equals = strchr (exclusion, '='); n == 0 && equals != NULL; equals = strchr (equals + 1, '=')) {
    g_free (file);
    file = g_strndup (exclusion, (gsize) (equals - exclusion));
    reason = equals + 1;
    entry = find_log (bench, file, &n);
  }
  if (entry == NULL)
    return explain_not_found (n == 0 ? exclusion : file, n);
  entry->included = FALSE;
  g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
  entry->exclusion_reason = reason != NULL ? g_ref_string_new (reason) : NULL;
  return NULL;
}

/* FILE=SECONDS. NULL, or what is wrong with it. */
static char *
apply_onset (SbBench *bench, const char *onset)
{
  const char *equals = strrchr (onset, '=');
  char *end = NULL;
  double onset_s = equals != NULL ? g_ascii_strtod (equals + 1, &end) : (double) NAN;
  if (!isfinite (onset_s) || end == equals + 1 || *end != '\0')
    return g_strdup_printf (
        "--onset takes the name of a log and a time in seconds, such as run-01.csv=0.0425, not '%s'.", onset);
  g_autofree char *file = g_strndup (onset, (gsize) (equals - onset));
  guint n;
  SbTrialEntry *entry = find_log (bench, file, &n);
  if (entry == NULL)
    return explain_not_found (file, n);
  entry->choices.onset_s = onset_s;
  return NULL;
}

/* Each of a list of options by `apply`, until one is wrong. */
static char *
apply_each (char **list, SbBench *bench, char *(*apply) (SbBench *bench, const char *option))
{
  char *wrong = NULL;
  for (gsize i = 0; wrong == NULL && list != NULL && list[i] != NULL; i++)
    wrong = apply (bench, list[i]);
  return wrong;
}

SbExitStatus
sb_options_apply (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart, SbBench *bench)
{
  g_autofree char *wrong = apply_numbers (numbers, bench);
  if (wrong == NULL)
    wrong = apply_words (numbers, bench);
  if (wrong == NULL && chart != NULL)
    wrong = apply_chart (chart, bench);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "%s", wrong);
  const char *unknown = apply_roles (numbers, bench);
  if (unknown != NULL)
    return sb_arguments_wrong (command, "no configuration is called '%s'.", unknown);
  wrong = apply_each (numbers->exclude, bench, apply_exclusion);
  if (wrong == NULL)
    wrong = apply_each (numbers->onset, bench, apply_onset);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "%s", wrong);
  return SB_EXIT_DONE;
}
