/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stated figures as marked lines of spread and sweep, and over time where labels are asked for; each with what was
 * stated and whether it is reached. */
#include "model_parts.h"
#include "verdict_words.h"

#include <math.h>
#include <string.h>

/* "at least 2 N·m/ms": what is stated, without the name of the measure. */
static char *
stated_words (const SbClaim *claim, SbUnits units)
{
  g_autofree char *text = sb_claim_text (claim, units);
  const char *name = sb_measure_info (claim->measure)->name;
  const char *words = g_str_has_prefix (text, name) ? text + strlen (name) : text;
  return g_strstrip (g_strdup (words));
}

static void
include_value (SbChartPanel *panel, double value)
{
  if (panel->y_log && value <= 0)
    return;
  double air = panel->y_log ? 0 : 0.12 * (panel->y_max - panel->y_min);
  if (value <= panel->y_min)
    panel->y_min = panel->y_log ? value / 1.1 : value - air;
  if (value >= panel->y_max)
    panel->y_max = panel->y_log ? value * 1.1 : value + air;
}

static void
add_line (SbChartPanel *panel, SbRuleKind kind, const double at[2], double value, char *label, char *brief)
{
  SbRule rule = { .kind = kind, .at = { at[0], at[1] }, .intercept = value, .label = label, .brief = brief };
  g_array_append_val (panel->rules, rule);
  include_value (panel, value);
}

/* The stated value, and for "about" the ends of what counts as that. */
static void
add_claim (SbChartPanel *panel, const SbClaim *claim, SbUnits units, const double at[2], char *label, char *brief)
{
  double factor = sb_measure_shown_unit (claim->measure, units).factor;
  add_line (panel, SB_RULE_STATED, at, claim->value * factor, label, brief);
  for (int sign = -1; sign <= 1 && claim->relation == SB_CLAIM_ABOUT; sign += 2)
    add_line (panel, SB_RULE_TOLERANCE, at, (claim->value + sign * claim->tolerance) * factor, NULL, NULL);
}

static int
row_of (const SbChartModel *model, const char *name)
{
  for (guint r = 0; r < model->rows->len; r++)
    if (strcmp (g_array_index (model->rows, SbRow, r).name, name) == 0)
      return (int) r;
  return -1;
}

/* A line in each row that the claim is of, with that configuration's verdict. */
static void
add_to_rows (const SbChartModel *model, SbChartPanel *panel, const SbClaimResult *result, const char *words)
{
  for (guint i = 0; i < result->sides->len; i++) {
    const SbClaimSide *side = sb_claim_result_side (result, i);
    const char *verdict = sb_bench_word (model->analysis->bench, sb_claim_verdict_words (side->verdict));
    int row = row_of (model, side->name);
    const double at[2] = { row, row + 1 };
    if (row >= 0)
      add_claim (panel, result->claim, model->analysis->bench->units, at,
                 g_strdup_printf ("stated: %s, %s", words, verdict), g_strdup (verdict));
  }
}

/* What the claim is of, with ": " after it; "" when it is of all. (transfer full) */
static char *
owner_words (const SbChartModel *model, const SbClaim *claim)
{
  if (claim->configuration >= 0)
    return g_strconcat (sb_analysis_configuration (model->analysis, (guint) claim->configuration)->name, ": ", NULL);
  return claim->device != NULL ? g_strconcat (claim->device, ": ", NULL) : g_strdup ("");
}

/* One line over all levels, with the verdict of them together. */
static void
add_to_levels (const SbChartModel *model, SbChartPanel *panel, const SbClaimResult *result, const char *words)
{
  const double at[2] = { model->x_min, model->x_max };
  g_autofree char *owner = owner_words (model, result->claim);
  g_autofree char *verdict = sb_bench_claim_words (model->analysis->bench, result);
  add_claim (panel, result->claim, model->analysis->bench->units, at,
             g_strdup_printf ("%sstated %s, %s", owner, words, verdict), g_strconcat (owner, verdict, NULL));
}

static gboolean
is_shown (const SbChartModel *model, const SbClaimResult *result)
{
  return (model->analysis->bench->chart.measures & 1u << result->claim->measure) != 0 && result->sides->len > 0;
}

void
sb_chart_append_stated (GString *foot, const SbChartModel *model)
{
  const GPtrArray *claims = model->analysis->claims;
  guint n = 0;
  for (guint i = 0; claims != NULL && i < claims->len; i++) {
    const SbClaimResult *result = g_ptr_array_index (claims, i);
    if (!is_shown (model, result))
      continue;
    g_autofree char *owner = owner_words (model, result->claim),
                    *words = stated_words (result->claim, model->analysis->bench->units);
    g_string_append_printf (foot, "%s%s%s", n++ == 0 ? "Heavy dashes: stated figures (" : "; ", owner, words);
  }
  if (n > 0)
    g_string_append (foot, "). ");
}

void
sb_chart_add_stated (const SbChartModel *model, SbChartPanel *panel)
{
  const GPtrArray *claims = model->analysis->claims;
  for (guint i = 0; claims != NULL && i < claims->len; i++) {
    const SbClaimResult *result = g_ptr_array_index (claims, i);
    if (result->claim->measure != panel->measure || result->sides->len == 0)
      continue;
    g_autofree char *words = stated_words (result->claim, model->analysis->bench->units);
    if (model->view == SB_VIEW_SPREAD)
      add_to_rows (model, panel, result, words);
    else
      add_to_levels (model, panel, result, words);
  }
}

/* Where a stated figure lies in a panel over time: a height, or an instant after the onset. */
typedef struct {
  SbMeasureId id;
  SbPanel panel;
  gboolean derived; /* in the panel of the slope */
  gboolean upright;
} StatedPlace;

static const StatedPlace places[] = {
  { SB_MEASURE_PEAK_VELOCITY, SB_PANEL_VELOCITY, FALSE, FALSE },
  { SB_MEASURE_VELOCITY_RISE_TIME, SB_PANEL_VELOCITY, FALSE, TRUE },
  { SB_MEASURE_PEAK_TORQUE, SB_PANEL_TORQUE, FALSE, FALSE },
  { SB_MEASURE_DEAD_TIME, SB_PANEL_TORQUE, FALSE, TRUE },
  { SB_MEASURE_SETTLING_TIME, SB_PANEL_TORQUE, FALSE, TRUE },
  { SB_MEASURE_PEAK_TORQUE_SLOPE, SB_PANEL_TORQUE, TRUE, FALSE },
};

/* Along the axis and up the panel, as shares: where the label of a line has its point. */
#define LABEL_ALONG 0.8
#define LABEL_UP    0.75

static double
panel_factor (const SbChartModel *model, const StatedPlace *place)
{
  return place->upright ? 1 : sb_measure_shown_unit (place->id, model->analysis->bench->units).factor;
}

static void
add_stated_label (const SbChartModel *model, SbChartPanel *panel, const SbClaimResult *result, const SbRule *rule)
{
  const SbClaim *claim = result->claim;
  g_autofree char *owner = owner_words (model, claim), *words = stated_words (claim, model->analysis->bench->units);
  g_autofree char *verdict = sb_bench_claim_words (model->analysis->bench, result);
  g_autofree char *name = g_utf8_strdown (sb_measure_info (claim->measure)->name, -1);
  SbLabelMark label = {
    .configuration = claim->configuration >= 0 ? (guint) claim->configuration : SB_LABEL_OF_ALL,
    .style = SB_STYLE_INK,
    .x = rule->upright ? rule->at[0] : model->x_min + LABEL_ALONG * (model->x_max - model->x_min),
    .y = rule->upright ? panel->y_min + LABEL_UP * (panel->y_max - panel->y_min) : rule->intercept,
    .slope = NAN,
    .text = g_strdup_printf ("%sstated %s %s, %s", owner, name, words, verdict),
  };
  g_array_append_val (panel->labels, label);
}

static void
add_over_time (const SbChartModel *model, SbChartPanel *panel, const SbClaimResult *result, const StatedPlace *place)
{
  const SbClaim *claim = result->claim;
  double factor = panel_factor (model, place);
  for (int k = 0; k < (claim->relation == SB_CLAIM_ABOUT ? 3 : 1); k++) {
    double value = (claim->value + (k == 0 ? 0 : k == 1 ? -claim->tolerance : claim->tolerance)) * factor;
    SbRule rule = { .kind = k == 0 ? SB_RULE_STATED : SB_RULE_TOLERANCE, .upright = place->upright };
    rule.at[0] = place->upright ? value : model->x_min;
    rule.at[1] = place->upright ? value : model->x_max;
    rule.intercept = place->upright ? 0 : value;
    g_array_append_val (panel->rules, rule);
    if (!place->upright)
      include_value (panel, value);
  }
  for (guint i = panel->rules->len; i > 0; i--) {
    const SbRule *rule = &g_array_index (panel->rules, SbRule, i - 1);
    if (rule->kind == SB_RULE_STATED) {
      add_stated_label (model, panel, result, rule);
      return;
    }
  }
}

void
sb_chart_model_add_stated (SbChartModel *model)
{
  const GPtrArray *claims = model->analysis->claims;
  for (guint p = 0; p < model->panels->len && model->analysis->bench->chart.labels != 0; p++) {
    SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; claims != NULL && i < claims->len && !panel->difference; i++) {
      const SbClaimResult *result = g_ptr_array_index (claims, i);
      for (gsize k = 0; k < G_N_ELEMENTS (places) && result->sides->len > 0; k++)
        if (places[k].id == result->claim->measure && places[k].panel == panel->panel
            && places[k].derived == (panel->derived != NULL))
          add_over_time (model, panel, result, &places[k]);
    }
  }
}
