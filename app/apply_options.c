/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "apply_options.h"

#include "judgement_options.h"
#include "measure_words.h"
#include "trial_options.h"

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
    { "--verdict-level", o->verdict_level, 1, 1e-6, 0.2, &bench->verdict_level },
    { "--audit-level", o->audit_level, 1, 1e-6, 0.2, &bench->audit.level },
    { "--audit-proportion", o->audit_proportion_percent, 1e-2, 0.1, 50, &bench->audit.proportion_ratio },
    { "--audit-straight", o->audit_straight_percent, 1e-2, 0.1, 50, &bench->audit.straight_ratio },
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
  if (o->drive_residuals)
    bench->drive_model = SB_DRIVE_MODEL_RESIDUALS;
  else if (o->drive_model && bench->drive_model == SB_DRIVE_MODEL_NONE)
    bench->drive_model = SB_DRIVE_MODEL_FIT;
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
  if (o->steps != NULL) {
    if (strcmp (o->steps, "all") != 0 && strcmp (o->steps, "first") != 0)
      return g_strdup ("--steps takes all or first.");
    bench->steps = strcmp (o->steps, "all") == 0 ? SB_STEPS_ALL : SB_STEPS_FIRST;
  }
  return NULL;
}

static char *
apply_units (const SbNumberOptions *o, SbBench *bench)
{
  g_auto (GStrv) words = g_strsplit (o->units != NULL ? o->units : "", ",", -1);
  for (gsize i = 0; words[i] != NULL; i++)
    if (!sb_units_read_word (g_strstrip (words[i]), &bench->units))
      return g_strdup ("--units takes N·m/ms or N·m/s, and rad/s, rpm or deg/s, with a comma between them.");
  return NULL;
}

/* "5" or "5%" of all measures, "KEY=5%" or "KEY=0.5" of one. */
static char *
apply_margin (SbBench *bench, const char *option)
{
  const char *equals = strchr (option, '='), *number = equals != NULL ? equals + 1 : option;
  char *end = NULL;
  double value = g_ascii_strtod (number, &end);
  gboolean is_number = end != number && (*end == '\0' || strcmp (end, "%") == 0);
  gboolean is_percent = is_number && (*end == '%' || equals == NULL);
  SbMeasureId id = SB_N_MEASURES;
  g_autofree char *key = equals != NULL ? g_strndup (option, (gsize) (equals - option)) : NULL;
  if (key != NULL && !sb_measure_id_from_words (key, &id)) {
    g_autofree char *unknown = sb_measure_unknown_words (key);
    return g_strdup_printf ("--margin: %s.", unknown);
  }
  if (!is_number || (is_percent && !(value >= 1e-4 && value <= 100)) || !(value > 0 && isfinite (value)))
    return g_strdup ("--margin takes a percentage from 0.0001 to 100, or KEY= and a percentage with its sign (5%) or a "
                     "number above 0 in the unit of the table.");
  if (key == NULL)
    bench->margin_ratio = value / 100;
  else if (is_percent)
    bench->margin[id] = (SbMargin){ .ratio = value / 100, .absolute = NAN };
  else
    bench->margin[id] = (SbMargin){ .ratio = NAN, .absolute = value / sb_measure_shown_unit (id, bench->units).factor };
  return NULL;
}

static char *
apply_judging (const SbNumberOptions *o, SbBench *bench)
{
  bench->difference_curves = bench->difference_curves || o->difference_curves;
  for (gsize i = 0; o->margin != NULL && o->margin[i] != NULL; i++) {
    char *wrong = apply_margin (bench, o->margin[i]);
    if (wrong != NULL)
      return wrong;
  }
  if (o->plan == NULL)
    return NULL;
  char *end = NULL;
  gboolean of_margin = strcmp (o->plan, "margin") == 0;
  double percent = of_margin ? 0 : g_ascii_strtod (o->plan, &end);
  gboolean whole = of_margin || (end != o->plan && (*end == '\0' || strcmp (end, "%") == 0));
  if (!whole || (!of_margin && !(percent >= 0.01 && percent <= 1000)))
    return g_strdup ("--plan takes a percentage from 0.01 to 1000, or margin.");
  bench->plan = TRUE;
  bench->plan_ratio = percent / 100;
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
apply_labels (const char *list, SbChartChoices *chart)
{
  if (strcmp (list, "none") == 0 || strcmp (list, "all") == 0) {
    chart->labels = strcmp (list, "all") == 0 ? (1u << SB_N_LABELS) - 1 : 0;
    return NULL;
  }
  guint labels = 0;
  g_auto (GStrv) words = g_strsplit (list, ",", -1);
  for (gsize i = 0; words[i] != NULL; i++) {
    guint label = sb_label_bit_from_key (g_strstrip (words[i]));
    if (label == 0)
      return g_strdup ("--labels takes peaks, slope, overshoot and ringing, with commas between them, or all or none.");
    labels |= label;
  }
  chart->labels = labels;
  return NULL;
}

static char *
apply_paper (const SbChartOptions *o, SbPaper *paper)
{
  guint preset;
  if (o->paper != NULL) {
    if (!sb_paper_preset_from_key (o->paper, &preset))
      return g_strdup ("--size takes column, page, page-175, frame, frame-2160 or square.");
    SbPaper chosen = sb_paper_preset (preset)->paper;
    chosen.ground = paper->ground;
    chosen.grey = paper->grey;
    chosen.legend = paper->legend;
    chosen.no_foot = paper->no_foot;
    *paper = chosen;
  }
  paper->width_mm = isnan (o->width_mm) ? paper->width_mm : o->width_mm;
  paper->height_mm = isnan (o->height_mm) ? paper->height_mm : o->height_mm;
  paper->dpi = isnan (o->dpi) ? paper->dpi : o->dpi;
  paper->font_pt = isnan (o->font_pt) ? paper->font_pt : o->font_pt;
  paper->grey = paper->grey || o->grey;
  paper->no_foot = paper->no_foot || o->no_foot;
  if (o->ground != NULL && !sb_ground_from_key (o->ground, &paper->ground))
    return g_strdup ("--ground takes white, dark, transparent or transparent-dark.");
  if (o->legend != NULL && !sb_legend_place_from_key (o->legend, &paper->legend))
    return g_strdup ("--legend takes above, below, right or none.");
  return NULL;
}

static char *
apply_chart (const SbChartOptions *o, SbBench *bench)
{
  SbChartChoices *chart = &bench->chart;
  char *wrong = o->panels != NULL ? apply_panels (o->panels, bench) : NULL;
  if (wrong == NULL && o->labels != NULL)
    wrong = apply_labels (o->labels, chart);
  if (wrong == NULL)
    wrong = sb_view_options_apply (&o->view, chart);
  if (wrong == NULL)
    wrong = apply_paper (o, &chart->paper);
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
  if (o->evidence != NULL && sb_chart_options_evidence (o) < 0) {
    g_autofree char *unknown = sb_measure_unknown_words (o->evidence);
    return g_strdup_printf ("--evidence: %s.", unknown);
  }
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

/* Configurations that are named after levels come of cutting logs into steps. */
static gboolean
may_come_of_a_cut (const SbBench *bench, const char *name)
{
  return bench->steps == SB_STEPS_ALL && strstr (name, "→") != NULL;
}

/* Looks for the configuration called `name` (NULL: leave it). FALSE when there is none and none can come. */
static gboolean
apply_role (const SbBench *bench, const char *name, int *role, gboolean *waits)
{
  int found = name != NULL ? find_configuration (bench, name) : -1;
  *waits = name != NULL && found < 0 && may_come_of_a_cut (bench, name);
  if (found >= 0)
    *role = found;
  return name == NULL || found >= 0 || *waits;
}

/* The name that no configuration has, or NULL. The chosen reference and the other are never the same by default. */
static const char *
apply_roles (const SbNumberOptions *o, SbBench *bench, SbWaitingOptions *waiting)
{
  if (!apply_role (bench, o->reference, &bench->reference, &waiting->reference))
    return o->reference;
  if (!apply_role (bench, o->other, &bench->other, &waiting->other))
    return o->other;
  if (bench->reference != bench->other || bench->configurations->len < 2)
    return NULL;
  int *moved = o->other != NULL ? &bench->reference : &bench->other;
  *moved = bench->reference == 0 ? 1 : 0;
  return NULL;
}

/* Each of a list of options by `apply`, until one is wrong. One that names a step of a log that may be cut yet waits,
 * unless `waiting` is NULL. */
static char *
apply_each (char **list, SbBench *bench, char *(*apply) (SbBench *bench, const char *option), GPtrArray *waiting)
{
  char *wrong = NULL;
  for (gsize i = 0; wrong == NULL && list != NULL && list[i] != NULL; i++) {
    wrong = apply (bench, list[i]);
    if (wrong == NULL || waiting == NULL || strchr (list[i], '@') == NULL)
      continue;
    g_ptr_array_add (waiting, g_strdup (list[i]));
    g_clear_pointer (&wrong, g_free);
  }
  return wrong;
}

SbExitStatus
sb_options_apply (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart, SbBench *bench,
                  SbWaitingOptions *waiting)
{
  waiting->exclude = g_ptr_array_new_with_free_func (g_free);
  waiting->onset = g_ptr_array_new_with_free_func (g_free);
  waiting->claim = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *wrong = apply_numbers (numbers, bench);
  if (wrong == NULL)
    wrong = apply_words (numbers, bench);
  if (wrong == NULL)
    wrong = apply_units (numbers, bench);
  if (wrong == NULL)
    wrong = apply_judging (numbers, bench);
  if (wrong == NULL)
    wrong = sb_word_options_apply (numbers->word, bench);
  if (wrong == NULL && chart != NULL)
    wrong = apply_chart (chart, bench);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "%s", wrong);
  const char *unknown = apply_roles (numbers, bench, waiting);
  if (unknown != NULL)
    return sb_arguments_wrong (command, "no configuration is called '%s'.", unknown);
  gboolean may_cut = bench->steps == SB_STEPS_ALL;
  wrong = apply_each (numbers->exclude, bench, sb_exclude_option_apply, may_cut ? waiting->exclude : NULL);
  if (wrong == NULL)
    wrong = apply_each (numbers->onset, bench, sb_onset_option_apply, may_cut ? waiting->onset : NULL);
  if (wrong == NULL)
    wrong = sb_judgement_options_apply (numbers->audit, numbers->claim, bench, waiting->claim);
  if (wrong != NULL)
    return sb_arguments_wrong (command, "%s", wrong);
  return SB_EXIT_DONE;
}

SbExitStatus
sb_options_apply_waiting (const char *command, const SbNumberOptions *numbers, SbWaitingOptions *waiting,
                          SbBench *bench)
{
  SbNumberOptions roles = { .reference = waiting->reference ? numbers->reference : NULL,
                            .other = waiting->other ? numbers->other : NULL };
  const char *unknown = apply_roles (&roles, bench, waiting);
  if (unknown == NULL && (waiting->reference || waiting->other))
    unknown = waiting->reference ? numbers->reference : numbers->other;
  if (unknown != NULL)
    return sb_arguments_wrong (command, "no configuration is called '%s'.", unknown);
  g_ptr_array_add (waiting->exclude, NULL);
  g_ptr_array_add (waiting->onset, NULL);
  g_ptr_array_add (waiting->claim, NULL);
  g_autofree char *wrong = apply_each ((char **) waiting->exclude->pdata, bench, sb_exclude_option_apply, NULL);
  if (wrong == NULL)
    wrong = apply_each ((char **) waiting->onset->pdata, bench, sb_onset_option_apply, NULL);
  if (wrong == NULL)
    wrong = sb_judgement_options_apply (NULL, (char **) waiting->claim->pdata, bench, NULL);
  return wrong != NULL ? sb_arguments_wrong (command, "%s", wrong) : SB_EXIT_DONE;
}

void
sb_waiting_options_clear (SbWaitingOptions *waiting)
{
  g_clear_pointer (&waiting->exclude, g_ptr_array_unref);
  g_clear_pointer (&waiting->onset, g_ptr_array_unref);
  g_clear_pointer (&waiting->claim, g_ptr_array_unref);
}
