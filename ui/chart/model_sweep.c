/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sweep: a panel per measure over the level of a setting, a point per repeat, the mean with its interval beside
 * them, a trend line through the repeats of each series. */
#include "model_parts.h"
#include "results_judgements.h"

#include "explained_trend.h"
#include "setting_levels.h"

#include <math.h>

/* From this span of the levels on, those near zero would fall together on a linear axis. */
#define LOG_SPAN       10.0
#define LEAST_LOG_SPAN 3.0 /* of the figures */

/* Points stand on their level, scattered over so many sizes of axis numbers: farther aside they would read as points of
 * another level. */
#define POINTS_WIDTH 0.45

/* Pairs of more values than this take long; then the means are looked at. */
#define MOST_FOR_PAIRS 1000

typedef struct {
  SbChartModel *model;
  const SbSettingLevels *levels;
  gboolean tells_trends; /* above a panel */
} Sweep;

typedef struct {
  SbTheilSen line;
  gboolean shortened; /* figures at higher levels leave the line */
  gboolean is_met;    /* by the levels that it is of: else it would show what no repeat did */
} Trend;

static const SbSettingLevel *
level_at (const SbSettingLevels *levels, guint i)
{
  return &g_array_index (levels->levels, SbSettingLevel, i);
}

static void
set_level_range (SbChartModel *model, const SbSettingLevels *levels)
{
  double lowest = HUGE_VAL, highest = -HUGE_VAL;
  for (guint i = 0; i < levels->levels->len; i++) {
    lowest = fmin (lowest, level_at (levels, i)->level);
    highest = fmax (highest, level_at (levels, i)->level);
  }
  model->x_display_factor = 1;
  model->x_log = lowest > 0 && highest >= LOG_SPAN * lowest;
  if (model->x_log) {
    double air = pow (highest / lowest, 0.07);
    model->x_min = lowest / air;
    model->x_max = highest * air;
    return;
  }
  if (lowest > 0 && lowest < highest / 2)
    lowest = 0;
  double air = highest > lowest ? 0.08 * (highest - lowest) : highest > 0 ? 0.2 * highest : 1;
  model->x_min = lowest - air;
  model->x_max = highest + air;
}

static void
set_level_label (SbChartModel *model, const SbSettingLevels *levels)
{
  GString *label = g_string_new (NULL);
  g_string_append_printf (label, "Setting: %s", levels->name);
  if (levels->unit[0] != '\0')
    g_string_append_printf (label, " [%s]", levels->unit);
  if (model->x_log)
    g_string_append (label, ", logarithmic");
  model->x_label = g_string_free (label, FALSE);
}

/* A series has the colour of its first configuration, in points, means, trend and legend. */
static guint
style_of (const Sweep *sweep, guint series)
{
  for (guint i = 0; i < sweep->levels->levels->len; i++)
    if (level_at (sweep->levels, i)->series == series)
      return sb_analysis_configuration (sweep->model->analysis, level_at (sweep->levels, i)->configuration)->style;
  return 0;
}

static void
add_configuration (const Sweep *sweep, SbChartPanel *panel, const SbSettingLevel *level)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (sweep->model->analysis, level->configuration);
  guint n = 0;
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    SbPoint point = { .configuration = level->configuration, .trial = t, .style = style_of (sweep, level->series) };
    if (!trial->included
        || !sb_chart_trial_value (trial, panel->measure, sweep->model->analysis->bench->units, &point.value))
      continue;
    point.at = level->level;
    point.series = level->series;
    point.aside = POINTS_WIDTH * (sb_chart_scatter (n++) - 0.5);
    g_array_append_val (panel->points, point);
  }
  SbMeanMark mark;
  if (!sb_chart_mean_mark (configuration, panel->measure, sweep->model->analysis->bench->units, &mark))
    return;
  if (mark.n == 1)
    sb_chart_doubt_point (panel, level->configuration, &mark);
  if (mark.n == 1 && n > 0)
    return;
  mark.configuration = level->configuration;
  mark.series = level->series;
  mark.style = style_of (sweep, level->series);
  mark.at = level->level;
  g_array_append_val (panel->means, mark);
}

/* Levels and figures of a series, of repeats or of means. Returns their number. */
static gsize
series_values (const SbChartPanel *panel, guint series, gboolean of_means, GArray *at, GArray *values)
{
  guint n = of_means ? panel->means->len : panel->points->len;
  for (guint i = 0; i < n; i++) {
    const SbPoint *point = of_means ? NULL : &g_array_index (panel->points, SbPoint, i);
    const SbMeanMark *mark = of_means ? &g_array_index (panel->means, SbMeanMark, i) : NULL;
    if ((of_means ? mark->series : point->series) != series)
      continue;
    g_array_append_val (at, *(of_means ? &mark->at : &point->at));
    g_array_append_val (values, *(of_means ? &mark->mean : &point->value));
  }
  return values->len;
}

static gboolean
fit_trend (const SbChartPanel *panel, SbRule *rule, Trend *trend)
{
  g_autoptr (GArray) at = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) values = g_array_new (FALSE, FALSE, sizeof (double));
  gboolean of_means = panel->points->len == 0 || panel->points->len > MOST_FOR_PAIRS;
  gsize n = series_values (panel, rule->series, of_means, at, values);
  double *x = (double *) (gpointer) at->data, *y = (double *) (gpointer) values->data;
  for (gsize i = 0; i < n; i++) {
    x[i] = rule->at_log ? log10 (x[i]) : x[i];
    y[i] = rule->value_log ? log10 (y[i]) : y[i];
  }
  if (!sb_explained_trend (x, y, n, &trend->line, rule->at, &trend->shortened))
    return FALSE;
  trend->is_met = sb_trend_meets_levels (x, y, n, &trend->line, rule->at);
  for (int end = 0; rule->at_log && end < 2; end++)
    rule->at[end] = pow (10, rule->at[end]);
  return TRUE;
}

/* "● 0.98 (0.95 to 1.01)": a series by its shape, when there are several. */
static void
append_trend (GString *caption, const Sweep *sweep, guint series, const SbTheilSen *trend)
{
  double uncertainty = sb_interval_rounding (trend->ci95);
  g_autofree char *slope = sb_number_format (trend->slope, uncertainty);
  g_autofree char *low = sb_number_format (trend->ci95[0], uncertainty);
  g_autofree char *high = sb_number_format (trend->ci95[1], uncertainty);
  g_string_append (caption, caption->len > 0 ? ", " : "Trend: ");
  if (sweep->levels->series->len > 1)
    g_string_append_printf (caption, "%s ", sb_shape_sign (series));
  g_string_append_printf (caption, "%s (%s to %s)", slope, low, high);
}

/* " up to 1": figures at higher levels leave the line. */
static void
append_reach (GString *caption, const Sweep *sweep, double highest)
{
  g_autofree char *level = sb_number_plain (highest);
  const char *unit = sweep->levels->unit;
  g_string_append_printf (caption, " up to %s%s%s", level, unit[0] != '\0' ? " " : "", unit);
}

/* What the trend's number counts: the unit of the figure per unit of the setting. */
static void
append_trend_unit (GString *caption, const Sweep *sweep, const SbChartPanel *panel)
{
  const char *unit = sb_measure_shown_unit (panel->measure, sweep->model->analysis->bench->units).name,
             *per = sweep->levels->unit;
  if (panel->y_log)
    g_string_append (caption, "; exponent: 1 is in proportion to the setting");
  else if (sweep->model->x_log)
    g_string_append_printf (caption, "; in %s for ten times the setting", unit);
  else if (per[0] != '\0')
    g_string_append_printf (caption, "; in %s per %s set", unit, per);
  else
    g_string_append_printf (caption, "; in %s per step of the setting", unit);
}

static void
add_trends (Sweep *sweep, SbChartPanel *panel)
{
  g_autoptr (GString) caption = g_string_new (NULL);
  for (guint s = 0; s < sweep->levels->series->len; s++) {
    Trend trend;
    SbRule rule = { .kind = SB_RULE_TREND, .series = s, .at_log = sweep->model->x_log, .value_log = panel->y_log };
    if (!fit_trend (panel, &rule, &trend))
      continue;
    rule.style = style_of (sweep, s);
    rule.intercept = trend.line.intercept;
    rule.slope = trend.line.slope;
    append_trend (caption, sweep, s, &trend.line);
    if (trend.shortened)
      append_reach (caption, sweep, rule.at[1]);
    if (trend.is_met)
      g_array_append_val (panel->rules, rule);
    else
      g_string_append (caption, ", off most levels and not drawn");
    sweep->tells_trends = TRUE;
  }
  if (caption->len > 0)
    append_trend_unit (caption, sweep, panel);
  g_free (panel->caption);
  panel->caption = g_strdup (caption->str);
}

/* Where the setting is a measure of the same, the line on which a drive does what it is told. */
static void
add_identity (const Sweep *sweep, SbChartPanel *panel, double ratio)
{
  SbRule rule = { .kind = SB_RULE_IDENTITY, .slope = ratio };
  rule.at[0] = sweep->model->x_min;
  rule.at[1] = sweep->model->x_max;
  g_array_append_val (panel->rules, rule);
}

/* A logarithmic axis needs figures above zero, and some way between them. */
static gboolean
suits_log (const SbChartPanel *panel)
{
  double lowest = HUGE_VAL, highest = 0;
  for (guint i = 0; i < panel->points->len; i++) {
    lowest = fmin (lowest, g_array_index (panel->points, SbPoint, i).value);
    highest = fmax (highest, g_array_index (panel->points, SbPoint, i).value);
  }
  for (guint i = 0; i < panel->means->len; i++) {
    const SbMeanMark *mark = &g_array_index (panel->means, SbMeanMark, i);
    lowest = fmin (lowest, isnan (mark->low) ? mark->mean : mark->low);
  }
  return lowest > 0 && highest >= LEAST_LOG_SPAN * lowest;
}

static void
add_panel (Sweep *sweep, SbMeasureId id)
{
  SbChartPanel *panel = sb_chart_model_add_measure_panel (sweep->model, id);
  for (guint i = 0; i < sweep->levels->levels->len; i++)
    add_configuration (sweep, panel, level_at (sweep->levels, i));
  const char *unit = sb_measure_shown_unit (id, sweep->model->analysis->bench->units).name;
  double ratio = sb_setting_unit_ratio (sweep->levels->unit, unit);
  panel->y_log = sweep->model->x_log && !isnan (ratio) && suits_log (panel);
  sb_chart_set_point_range (panel);
  add_trends (sweep, panel);
  if (!isnan (ratio))
    add_identity (sweep, panel, ratio);
  sb_chart_add_stated (sweep->model, panel);
  if (panel->points->len + panel->means->len == 0) {
    g_free (panel->caption);
    panel->caption = g_strdup ("No configuration has this figure.");
  }
}

static int
series_of (const SbSettingLevels *levels, guint configuration)
{
  for (guint i = 0; i < levels->levels->len; i++)
    if (level_at (levels, i)->configuration == configuration)
      return (int) level_at (levels, i)->series;
  return -1;
}

/* What the audit of the setting says of each series, before the trend of the first panel. */
static void
add_verdicts (SbChartModel *model, const SbSettingLevels *levels)
{
  const GPtrArray *audits = model->analysis->audits;
  GString *caption = g_string_new (NULL);
  for (guint i = 0; audits != NULL && i < audits->len; i++) {
    const SbAuditedSetting *audited = g_ptr_array_index (audits, i);
    int series
        = audited->configurations->len > 0 ? series_of (levels, g_array_index (audited->configurations, guint, 0)) : -1;
    if (series < 0 || g_ascii_strcasecmp (audited->audit->setting, levels->name) != 0)
      continue;
    g_autofree char *verdict = sb_audit_shown_verdict (model->analysis->bench, audited->audit);
    g_string_append_printf (caption, "%s%s%s%s", caption->len > 0 ? "; " : "Audit: ",
                            levels->series->len > 1 ? sb_shape_sign ((guint) series) : "",
                            levels->series->len > 1 ? " " : "", verdict);
  }
  SbChartPanel *panel = g_ptr_array_index (model->panels, 0);
  if (caption->len > 0 && panel->caption[0] != '\0')
    g_string_append (caption, ". ");
  g_string_append (caption, panel->caption);
  g_free (panel->caption);
  panel->caption = g_string_free (caption, FALSE);
}

static void
add_series_legend (const Sweep *sweep)
{
  const GPtrArray *series = sweep->levels->series;
  for (guint s = 0; series->len > 1 && s < series->len; s++) {
    SbLegendEntry entry
        = { .style = style_of (sweep, s), .text = g_strdup (g_ptr_array_index (series, s)), .series = (int) s };
    g_array_append_val (sweep->model->legend, entry);
  }
}

/* Whether some of a line that rises or falls lies within what the panel shows. */
static gboolean
is_in_view (const SbChartPanel *panel, const SbRule *rule)
{
  double first = rule->intercept + rule->slope * rule->at[0], last = rule->intercept + rule->slope * rule->at[1];
  return fmin (first, last) <= panel->y_max && fmax (first, last) >= panel->y_min;
}

static gboolean
has_rule (const SbChartModel *model, SbRuleKind kind)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->rules->len; i++) {
      const SbRule *rule = &g_array_index (panel->rules, SbRule, i);
      if (rule->kind == kind && (kind != SB_RULE_IDENTITY || is_in_view (panel, rule)))
        return TRUE;
    }
  }
  return FALSE;
}

static void
set_foot (const Sweep *sweep)
{
  SbChartModel *model = sweep->model;
  const SbSettingLevels *levels = sweep->levels;
  GString *foot = g_string_new ("Points: single repeats at their level, set a hair apart. ");
  sb_chart_append_means (foot, model);
  if (has_rule (model, SB_RULE_TREND))
    g_string_append (foot,
                     "Trend: Theil–Sen over the repeats of the levels it is drawn over, with its 95 % interval. ");
  else if (sweep->tells_trends)
    g_string_append (foot, "Trend: Theil–Sen over the repeats, with its 95 % interval. ");
  if (has_rule (model, SB_RULE_IDENTITY))
    g_string_append (foot, "Fine line: measured as set. ");
  sb_chart_append_stated (foot, model);
  for (guint i = 0; i < levels->without->len; i++)
    g_string_append_printf (foot, "%s%s%s", i == 0 ? "Without a level: " : ", ",
                            (const char *) g_ptr_array_index (levels->without, i),
                            i + 1 == levels->without->len ? ". " : "");
  sb_chart_append_source (foot, model);
  model->foot = g_string_free (foot, FALSE);
}

static gboolean
any_drawn (const SbAnalysis *analysis)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->drawn && configuration->n_used > 0)
      return TRUE;
  }
  return FALSE;
}

static void
set_absent (SbChartModel *model, const char *setting)
{
  model->x_label = g_strdup ("");
  model->foot = g_strdup ("");
  model->x_display_factor = 1;
  if (!any_drawn (model->analysis))
    return;
  model->absent_reason
      = setting != NULL
            ? g_strdup_printf ("No configuration that is drawn states a number for the setting “%s”.", setting)
            : g_strdup ("The configurations that are drawn differ in no setting with numbers. State the level in each "
                        "log, as in “# setting torque slope: 2.0 N·m/ms”, or draw more configurations.");
}

void
sb_chart_model_add_sweep (SbChartModel *model)
{
  const SbChartChoices *chart = &model->analysis->bench->chart;
  g_autoptr (GPtrArray) names = sb_setting_names (model->analysis);
  const char *setting = chart->setting[0] != '\0' ? chart->setting
                        : names->len > 0          ? (const char *) g_ptr_array_index (names, 0)
                                                  : NULL;
  g_autoptr (SbSettingLevels) levels = setting != NULL ? sb_setting_levels_new (model->analysis, setting) : NULL;
  if (levels == NULL || levels->levels->len == 0) {
    set_absent (model, setting);
    return;
  }
  set_level_range (model, levels);
  set_level_label (model, levels);
  Sweep sweep = { .model = model, .levels = levels };
  SbMeasureId measures[SB_N_MEASURES];
  gsize n = sb_chart_choices_measures (chart, measures);
  for (gsize i = 0; i < n; i++)
    add_panel (&sweep, measures[i]);
  add_verdicts (model, levels);
  add_series_legend (&sweep);
  set_foot (&sweep);
}
