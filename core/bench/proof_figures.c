/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_figures.h"

#include "json_members.h"

#include <math.h>

/* Names of the values in JSON. */
static const char *const summary_members[SB_PROOF_VALUES] = { "mean", "sd", "n", NULL };
static const char *const comparison_members[SB_PROOF_VALUES] = { "difference", "low", "high", "p_holm" };

static const char *const *
members_of (const SbProofFigure *figure)
{
  return figure->configuration >= 0 ? summary_members : comparison_members;
}

static void
figure_clear (gpointer data)
{
  SbProofFigure *figure = data;
  g_clear_pointer (&figure->verdict, g_free);
}

GArray *
sb_proof_figures_new (void)
{
  GArray *figures = g_array_new (FALSE, TRUE, sizeof (SbProofFigure));
  g_array_set_clear_func (figures, figure_clear);
  return figures;
}

static void
add_summary (GArray *figures, int configuration, const SbSummary *summary)
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureSummary *measure = &summary->measure[m];
    SbProofFigure figure = { configuration, (SbMeasureId) m, measure->present, { NAN, NAN, NAN, NAN }, NULL };
    if (measure->present) {
      figure.value[0] = measure->mean;
      figure.value[1] = measure->sd;
      figure.value[2] = (double) measure->n;
    }
    g_array_append_val (figures, figure);
  }
}

static void
add_comparison (GArray *figures, const SbComparison *comparison)
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureComparison *measure = &comparison->measure[m];
    SbProofFigure figure = { -1, (SbMeasureId) m, measure->present, { NAN, NAN, NAN, NAN }, NULL };
    if (measure->present) {
      figure.value[0] = measure->welch.difference;
      figure.value[1] = measure->welch.ci95[0];
      figure.value[2] = measure->welch.ci95[1];
      figure.value[3] = measure->p_holm;
      figure.verdict = g_strdup (sb_verdict_words (measure->verdict));
    }
    g_array_append_val (figures, figure);
  }
}

GArray *
sb_proof_figures_of (const SbAnalysis *analysis)
{
  GArray *figures = sb_proof_figures_new ();
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->summary != NULL)
      add_summary (figures, (int) c, configuration->summary);
  }
  if (analysis->comparison != NULL)
    add_comparison (figures, analysis->comparison);
  return figures;
}

/* to and from JSON */

/* Figures come in the order of their configurations; those of this one begin at *next, which is moved behind them. */
static void
build_measures (JsonBuilder *builder, const GArray *figures, int configuration, guint *next)
{
  sb_json_begin (builder, "measures");
  for (; *next < figures->len; ++*next) {
    const SbProofFigure *figure = &g_array_index (figures, SbProofFigure, *next);
    if (figure->configuration != configuration)
      break;
    sb_json_begin (builder, sb_measure_info (figure->id)->key);
    if (!figure->present)
      sb_json_add_boolean (builder, "absent", TRUE);
    for (gsize v = 0; v < SB_PROOF_VALUES; v++)
      if (isfinite (figure->value[v]))
        sb_json_add_number (builder, members_of (figure)[v], figure->value[v]);
    if (figure->verdict != NULL)
      sb_json_add_string (builder, "verdict", figure->verdict);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

void
sb_proof_figures_build (JsonBuilder *builder, const GArray *figures, const SbAnalysis *analysis)
{
  guint next = 0;
  sb_json_begin_list (builder, "figures");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "configuration", sb_analysis_configuration (analysis, c)->name);
    build_measures (builder, figures, (int) c, &next);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
  if (analysis->comparison == NULL)
    return;
  sb_json_begin (builder, "comparison");
  build_measures (builder, figures, -1, &next);
  json_builder_end_object (builder);
}

static void
read_figure (JsonObject *object, SbProofFigure *figure)
{
  figure->present = !sb_json_boolean_or (object, "absent", FALSE);
  for (gsize v = 0; v < SB_PROOF_VALUES; v++)
    figure->value[v]
        = members_of (figure)[v] != NULL ? sb_json_number_or_nan (object, members_of (figure)[v]) : (double) NAN;
  JsonNode *verdict = sb_json_value (object, "verdict", G_TYPE_STRING);
  if (verdict != NULL)
    figure->verdict = json_node_dup_string (verdict);
}

static gboolean
read_measures (JsonObject *holder, int configuration, GArray *figures, gsize *n_unknown)
{
  JsonObject *measures = sb_json_object (holder, "measures");
  if (measures == NULL)
    return FALSE;
  JsonObjectIter iter;
  const char *key;
  JsonNode *node;
  json_object_iter_init_ordered (&iter, measures);
  while (json_object_iter_next_ordered (&iter, &key, &node)) {
    SbProofFigure figure = { .configuration = configuration };
    if (!JSON_NODE_HOLDS_OBJECT (node))
      return FALSE;
    if (!sb_measure_id_from_key (key, &figure.id)) {
      ++*n_unknown;
      continue;
    }
    read_figure (json_node_get_object (node), &figure);
    g_array_append_val (figures, figure);
  }
  return TRUE;
}

gboolean
sb_proof_figures_read (JsonObject *root, GArray *figures, GPtrArray *names, gsize *n_unknown)
{
  JsonArray *list = sb_json_array (root, "figures");
  if (list == NULL)
    return FALSE;
  for (guint c = 0; c < json_array_get_length (list); c++) {
    JsonNode *node = json_array_get_element (list, c);
    JsonObject *object = JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
    JsonNode *name = object != NULL ? sb_json_value (object, "configuration", G_TYPE_STRING) : NULL;
    if (name == NULL || !read_measures (object, (int) c, figures, n_unknown))
      return FALSE;
    g_ptr_array_add (names, json_node_dup_string (name));
  }
  JsonObject *comparison = sb_json_object (root, "comparison");
  return comparison == NULL || read_measures (comparison, -1, figures, n_unknown);
}

/* in words */

static char *
summary_text (const SbProofFigure *figure, double spread)
{
  g_autofree char *mean = sb_measure_format (figure->id, figure->value[0], spread, FALSE);
  g_autofree char *sd = sb_measure_format (figure->id, figure->value[1], spread, FALSE);
  const char *unit = sb_measure_info (figure->id)->display_unit;
  gboolean bare = g_strcmp0 (unit, "1") == 0;
  g_autofree char *number
      = isfinite (figure->value[1]) ? g_strdup_printf ("%s ± %s", mean, sd) : g_steal_pointer (&mean);
  g_autofree char *n = isfinite (figure->value[2]) ? g_strdup_printf (" (n = %.0f)", figure->value[2]) : g_strdup ("");
  return g_strconcat (number, bare ? "" : " ", bare ? "" : unit, n, NULL);
}

static char *
comparison_text (const SbProofFigure *figure, double half)
{
  g_autofree char *difference = sb_measure_format (figure->id, figure->value[0], half, TRUE);
  g_autofree char *low = sb_measure_format (figure->id, figure->value[1], half, FALSE);
  g_autofree char *high = sb_measure_format (figure->id, figure->value[2], half, FALSE);
  char p[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (p, sizeof p, "%.3f", figure->value[3]);
  return g_strdup_printf ("%s (%s to %s, p %s%s, %s)", difference, low, high, figure->value[3] < 0.001 ? "" : "= ",
                          figure->value[3] < 0.001 ? "< 0.001" : p,
                          figure->verdict != NULL ? figure->verdict : "no verdict");
}

/* As sb_summary_rounding() of the same figure. */
static double
rounding_of (const SbProofFigure *figure)
{
  double by = sb_measure_info (figure->id)->of_configuration
                  ? sb_deviation_uncertainty (figure->value[0], figure->value[2])
                  : figure->value[1];
  return by > 0 ? by : (double) NAN;
}

char *
sb_proof_figure_text (const SbProofFigure *figure, const SbProofFigure *like)
{
  if (!figure->present)
    return g_strdup ("absent");
  if (figure->configuration >= 0)
    return summary_text (figure, rounding_of (like));
  return comparison_text (figure, sb_interval_rounding (&like->value[1]));
}
