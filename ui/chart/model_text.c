/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a chart: legend, foot line, description. */
#include "model_parts.h"

#include "derived_channels.h"

#include <math.h>
#include <string.h>

/* Settings longer than this would push the names out of the legend; they stand in the tables. */
#define LONGEST_SETTINGS 40
/* Repeats end alike when the shortest has so much of the longest. */
#define ALIKE_LENGTH_RATIO 0.95

/* A number without the locale's decimal sign, so that a chart is the same everywhere. */
void
sb_chart_append_number (GString *text, double value)
{
  g_autofree char *number = sb_number_plain (value);
  g_string_append (text, number);
}

SbLegendEntry
sb_chart_legend_entry (const SbAnalysis *analysis, guint index)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, index);
  g_autofree char *settings = sb_analysis_differing_settings (analysis, index);
  SbLegendEntry entry = { .configuration = index, .style = configuration->style, .series = -1 };
  GString *text = g_string_new (configuration->name);
  g_string_append_c (text, ' ');
  entry.count_at = text->len;
  g_string_append_printf (text, "(n = %" G_GSIZE_FORMAT ")", configuration->ensemble->n_trials);
  entry.count_end = text->len;
  if (settings[0] != '\0' && g_utf8_strlen (settings, -1) <= LONGEST_SETTINGS)
    g_string_append_printf (text, ", %s", settings);
  entry.text = g_string_free (text, FALSE);
  return entry;
}

static gboolean
has_curve (const SbChartModel *model, guint configuration)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->curves->len && !panel->difference; i++)
      if (g_array_index (panel->curves, SbCurve, i).configuration == configuration)
        return TRUE;
  }
  return FALSE;
}

/* A panel of curves of configurations. */
static gboolean
has_response (const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++)
    if (!((SbChartPanel *) g_ptr_array_index (model->panels, p))->difference)
      return TRUE;
  return FALSE;
}

void
sb_chart_model_add_legend (SbChartModel *model)
{
  for (guint c = 0; c < model->analysis->configurations->len; c++) {
    if (!has_curve (model, c))
      continue;
    SbLegendEntry entry = sb_chart_legend_entry (model->analysis, c);
    g_array_append_val (model->legend, entry);
  }
}

static int
by_size (gconstpointer a, gconstpointer b)
{
  const gsize *one = a, *other = b;
  return (*one > *other) - (*one < *other);
}

/* How many repeats the drawn bands are of, each number once, the smallest first. */
static GArray *
band_counts (const SbChartModel *model)
{
  GArray *counts = g_array_new (FALSE, FALSE, sizeof (gsize));
  const SbChartPanel *panel = g_ptr_array_index (model->panels, 0);
  for (guint i = 0; i < panel->bands->len; i++) {
    guint configuration = g_array_index (panel->bands, SbBandArea, i).configuration;
    gsize n = sb_analysis_configuration (model->analysis, configuration)->ensemble->n_trials;
    gboolean known = n < 2;
    for (guint k = 0; k < counts->len; k++)
      known = known || g_array_index (counts, gsize, k) == n;
    if (!known)
      g_array_append_val (counts, n);
  }
  g_array_sort (counts, by_size);
  return counts;
}

static gboolean
has_repeats (const SbChartModel *model)
{
  for (guint i = 0; i < model->legend->len; i++) {
    guint index = g_array_index (model->legend, SbLegendEntry, i).configuration;
    if (sb_analysis_configuration (model->analysis, index)->ensemble->n_trials > 1)
      return TRUE;
  }
  return FALSE;
}

static void
append_repeat_band (GString *foot, const SbChartModel *model)
{
  const SbBench *bench = model->analysis->bench;
  g_autoptr (GArray) counts = band_counts (model);
  if (counts->len == 0) {
    if (has_repeats (model))
      g_string_append (foot, "No band. ");
    return;
  }
  /* "Band: mean ± 1 standard deviation of 3, 5 or 50 repeats. " */
  g_autofree char *words = sb_band_words (bench->band, bench->band_k);
  g_string_append_printf (foot, "Band: %s of ", words);
  for (guint k = 0; k < counts->len; k++)
    g_string_append_printf (foot, "%s%" G_GSIZE_FORMAT,
                            k == 0                 ? ""
                            : k + 1 == counts->len ? " or "
                                                   : ", ",
                            g_array_index (counts, gsize, k));
  g_string_append (foot, " repeats. ");
}

/* Where the mean of a drawn configuration stops being that of all its repeats, s after the onset; infinite when it is
 * theirs to their ends, or nearly. */
static double
reach_s (const SbConfigurationResult *configuration)
{
  const SbEnsemble *ensemble = configuration->ensemble;
  double shortest_s = HUGE_VAL, longest_s = -HUGE_VAL;
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!trial->included || trial->facts == NULL)
      continue;
    shortest_s = fmin (shortest_s, trial->facts->end_s);
    longest_s = fmax (longest_s, trial->facts->end_s);
  }
  return ensemble->n_trials > 1 && shortest_s < ALIKE_LENGTH_RATIO * longest_s ? shortest_s : HUGE_VAL;
}

static void
append_reach (GString *foot, const SbChartModel *model)
{
  double first_s = HUGE_VAL;
  for (guint i = 0; i < model->legend->len; i++) {
    guint index = g_array_index (model->legend, SbLegendEntry, i).configuration;
    first_s = fmin (first_s, reach_s (sb_analysis_configuration (model->analysis, index)));
  }
  if (!isfinite (first_s))
    return;
  if (model->analysis->bench->span == SB_SPAN_COMMON) {
    g_string_append (foot, "Means as far as all repeats reach. ");
    return;
  }
  g_string_append (foot, "Fewer repeats carry a mean from ");
  sb_chart_append_number (foot, floor (1e4 * first_s) / 10);
  g_string_append (foot, " ms on. ");
}

/* Says of lone trials what is drawn around them, because it must never be taken for a band of repeats. */
static void
append_lone_band (GString *foot, const SbChartModel *model)
{
  gsize n_moving = 0, n_bare = 0;
  for (guint i = 0; i < model->legend->len; i++) {
    guint index = g_array_index (model->legend, SbLegendEntry, i).configuration;
    const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, index);
    if (configuration->ensemble->n_trials > 1)
      continue;
    if (sb_chart_has_moving_band (model, configuration))
      n_moving++;
    else
      n_bare++;
  }
  if (n_moving > 0) {
    g_string_append (foot, "Single log: moving mean ± 1 moving standard deviation over ");
    sb_chart_append_number (foot, 1000 * model->analysis->bench->moving_window_s);
    g_string_append (foot, " ms, the log as a thin line; no spread of repeats. ");
  }
  if (n_bare > 0)
    g_string_append (foot, n_bare == 1 ? "A single repeat has no band. " : "Single repeats have no band. ");
}

void
sb_chart_append_slope_window (GString *foot, const SbBench *bench)
{
  if (bench->measure.slope_window_s > 0) {
    g_string_append (foot, "Slopes over ");
    sb_chart_append_number (foot, 1000 * bench->measure.slope_window_s);
    g_string_append (foot, " ms. ");
  } else {
    g_string_append (foot, "Slopes over 5 samples, at least 1 ms. ");
  }
}

void
sb_chart_append_source (GString *foot, const SbChartModel *model)
{
  g_autofree char *checksum = sb_analysis_data_checksum (model->analysis);
  g_string_append_printf (foot, "Slewbench %s, data %s.", SB_VERSION, checksum);
}

static gboolean
has_fit (const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->curves->len; i++)
      if (g_array_index (panel->curves, SbCurve, i).fit)
        return TRUE;
  }
  return FALSE;
}

static gboolean
has_mark (const SbChartModel *model, SbEvidenceKind kind)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->marks->len; i++)
      if (g_array_index (panel->marks, SbMark, i).kind == kind)
        return TRUE;
  }
  return FALSE;
}

static gboolean
has_thin_line (const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->curves->len && panel->marks->len > 0; i++)
      if (g_array_index (panel->curves, SbCurve, i).thin)
        return TRUE;
  }
  return FALSE;
}

/* "Rings and dashed levels": what the marks look like. (transfer full) */
static char *
mark_shapes (const SbChartModel *model)
{
  static const struct {
    SbEvidenceKind kind;
    const char *words;
  } shapes[] = { { SB_EVIDENCE_PEAK, "dots" },
                 { SB_EVIDENCE_CROSSING, "rings" },
                 { SB_EVIDENCE_TANGENT, "tangents" },
                 { SB_EVIDENCE_LEVEL, "dashed levels" },
                 { SB_EVIDENCE_CREST, "arrow heads" } };
  const char *seen[G_N_ELEMENTS (shapes)];
  gsize n = 0;
  for (gsize k = 0; k < G_N_ELEMENTS (shapes); k++)
    if (has_mark (model, shapes[k].kind))
      seen[n++] = shapes[k].words;
  GString *text = g_string_new (NULL);
  for (gsize k = 0; k < n; k++)
    g_string_append_printf (text, "%s%s", k == 0 ? "" : k + 1 == n ? " and " : ", ", seen[k]);
  text->str[0] = g_ascii_toupper (text->str[0]);
  return g_string_free (text, FALSE);
}

static void
append_evidence (GString *foot, const SbChartModel *model, int evidence)
{
  gsize n_marks = 0;
  for (guint p = 0; p < model->panels->len; p++)
    n_marks += ((SbChartPanel *) g_ptr_array_index (model->panels, p))->marks->len;
  if (n_marks == 0 || evidence < 0)
    return;
  g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) evidence)->name, -1);
  g_autofree char *shapes = mark_shapes (model);
  g_string_append_printf (foot, "%s: where the %s of each configuration’s first repeat comes from%s. ", shapes, name,
                          has_thin_line (model) ? "; the repeat is the thin line" : "");
}

static const SbConfigurationResult *
drawn (const SbChartModel *model, guint i)
{
  return sb_analysis_configuration (model->analysis, g_array_index (model->legend, SbLegendEntry, i).configuration);
}

/* The names of the drawn configurations with a channel that came about in this way; "" when all have. */
static char *
names_with (const SbChartModel *model, const char *clause)
{
  GString *names = g_string_new (NULL);
  gboolean all = TRUE;
  for (guint i = 0; i < model->legend->len; i++) {
    g_autoptr (GPtrArray) clauses = sb_derived_channels (drawn (model, i));
    gboolean has = g_ptr_array_find_with_equal_func (clauses, clause, g_str_equal, NULL);
    all = all && has;
    if (has)
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", drawn (model, i)->name);
  }
  return g_string_free (all ? g_string_truncate (names, 0) : names, FALSE);
}

/* A figure whose torque nobody measured says so, or it is published as measured. */
static void
append_derived (GString *foot, const SbChartModel *model)
{
  g_autoptr (GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < model->legend->len; i++) {
    g_autoptr (GPtrArray) clauses = sb_derived_channels (drawn (model, i));
    for (guint k = 0; k < clauses->len; k++) {
      if (!g_hash_table_add (told, clauses->pdata[k]))
        continue;
      g_autofree char *names = names_with (model, clauses->pdata[k]);
      g_autofree char *sentence = sb_derived_sentence (clauses->pdata[k]);
      g_string_append_printf (foot, "%s%s%s ", names, names[0] != '\0' ? ": " : "", sentence);
    }
  }
}

void
sb_chart_model_set_foot (SbChartModel *model, int evidence)
{
  GString *foot = g_string_new (NULL);
  if (model->panels->len > 0) {
    gboolean is_difference = model->view == SB_VIEW_DIFFERENCE;
    if (has_response (model) && sb_view_is_over_time (model->view)) {
      append_repeat_band (foot, model);
      append_reach (foot, model);
      append_lone_band (foot, model);
    }
    if (is_difference)
      sb_chart_append_difference (foot, model);
    else if (sb_view_is_over_time (model->view))
      sb_chart_append_slope_window (foot, model->analysis->bench);
    if (model->view == SB_VIEW_RINGING)
      sb_chart_append_ringing (foot, model);
    if (model->view == SB_VIEW_PHASE)
      sb_chart_append_phase (foot, model);
    if (has_fit (model) && model->view != SB_VIEW_RINGING)
      g_string_append (foot, "Dark dashes: the fitted model of the drive. ");
    append_evidence (foot, model, evidence);
    append_derived (foot, model);
    sb_chart_append_labels (foot, model);
    sb_chart_append_source (foot, model);
  }
  model->foot = g_string_free (foot, FALSE);
}

static void
append_panel_words (GString *text, const SbChartModel *model)
{
  static const char *const numbers[] = { "No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight" };
  g_string_append_printf (text, "%s panel%s", numbers[model->panels->len], model->panels->len == 1 ? "" : "s");
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    const char *shown = panel->derived != NULL ? panel->derived : sb_channel_name (sb_panel_channel (panel->panel));
    g_autofree char *name = g_utf8_strdown (shown, -1);
    g_string_append_printf (text, "%s%s%s",
                            p == 0                        ? ": "
                            : p + 1 == model->panels->len ? " and "
                                                          : ", ",
                            name, panel->difference ? " difference" : "");
  }
}

static void
append_range_words (GString *text, const SbChartModel *model)
{
  if (!sb_view_is_over_time (model->view)) {
    g_string_append (text, ". ");
    return;
  }
  gboolean in_ms = strstr (model->x_label, "[ms]") != NULL;
  g_string_append (text, ", over ");
  sb_chart_append_number (text, model->x_min * model->x_display_factor);
  g_string_append (text, " to ");
  sb_chart_append_number (text, model->x_max * model->x_display_factor);
  g_string_append_printf (text, " %s after the step. ", in_ms ? "ms" : "s");
}

static void
append_callout_words (GString *text, const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->callouts->len; i++) {
      const SbCalloutMark *callout = &g_array_index (panel->callouts, SbCalloutMark, i);
      g_string_append_printf (text, "; callout on %s at ",
                              sb_analysis_configuration (model->analysis, callout->configuration)->name);
      sb_chart_append_number (text, callout->x * 1000);
      g_string_append_printf (text, " ms: %s", callout->text);
    }
  }
}

char *
sb_chart_model_describe (const SbChartModel *model)
{
  if (model->panels->len == 0)
    return g_strdup (model->absent_reason != NULL ? model->absent_reason : "Nothing is drawn.");
  GString *text = g_string_new (NULL);
  if (model->title[0] != '\0')
    g_string_append_printf (text, "%s%s ", model->title, g_str_has_suffix (model->title, "?") ? "" : ".");
  if (sb_view_is_of_points (model->view)) {
    sb_chart_append_point_words (text, model);
    return g_string_free (text, FALSE);
  }
  append_panel_words (text, model);
  append_range_words (text, model);
  for (guint p = 0; p < model->panels->len; p++) {
    const char *caption = ((SbChartPanel *) g_ptr_array_index (model->panels, p))->caption;
    g_string_append_printf (text, "%s%s", caption, caption[0] != '\0' ? ". " : "");
  }
  if (model->legend->len == 0) {
    g_string_append (text, model->foot);
    return g_string_free (text, FALSE);
  }
  g_string_append_printf (text, "%u configuration%s: ", model->legend->len, model->legend->len == 1 ? "" : "s");
  for (guint i = 0; i < model->legend->len; i++) {
    const SbLegendEntry *entry = &g_array_index (model->legend, SbLegendEntry, i);
    gboolean dimmed = sb_chart_model_is_dimmed (model, entry->configuration);
    g_string_append_printf (text, "%s%s: %s%s", i > 0 ? "; " : "", entry->text, sb_style_get (entry->style)->name,
                            dimmed ? ", dimmed" : "");
  }
  append_callout_words (text, model);
  sb_chart_append_label_words (text, model);
  g_string_append_printf (text, ". %s", model->foot);
  return g_string_free (text, FALSE);
}
