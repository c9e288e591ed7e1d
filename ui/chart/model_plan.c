/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats planned: a panel per measure with the repeats that a difference takes, for two powers, over the size of that
 * difference; what is asked for and what there is now are marked. */
#include "model_parts.h"

#include "power.h"
#include "results_pair.h"

#include <math.h>
#include <string.h>

/* Black both: a configuration has neither the colour nor a curve here. */
#define STYLE_80 11
#define STYLE_90 SB_STYLE_INK

/* Numbers of repeats that a curve is drawn through, from 2 on, each so many times the one before. */
#define N_DRAWN   36
#define LEAST_N   2.0
#define USUAL_N   100.0
#define LARGEST_N ((double) SB_MOST_REPEATS)

#define AIR 1.08

typedef struct {
  SbChartModel *model;
  const SbPlan *plan;
  guint measures;     /* of the bit mask that are drawn */
  GString *absent;    /* measures without a plan, each with its reason */
  gboolean two_sided; /* of a pair; else of one configuration */
} Planning;

/* A difference as a share of the reference mean, in %. */
static double
percent (const SbMeasurePlan *measure, double difference)
{
  return 100 * difference / fabs (measure->mean);
}

static double
detectable (const Planning *planning, const SbMeasurePlan *measure, double n, double power)
{
  return percent (measure, sb_plan_detectable (measure, n, planning->plan->level, power));
}

/* As far as the asked-for difference takes, within what is searched. */
static double
most_repeats (const SbMeasurePlan *measure)
{
  double asked = measure->n_90 > 0 ? AIR * (double) measure->n_90 : LARGEST_N;
  return CLAMP (asked, USUAL_N, LARGEST_N);
}

/* By rising difference, which is by falling number. */
static void
add_curve (const Planning *planning, SbChartPanel *panel, const SbMeasurePlan *measure, double power, guint style)
{
  double *x = sb_chart_model_keep (planning->model, g_new (double, N_DRAWN));
  double *y = sb_chart_model_keep (planning->model, g_new (double, N_DRAWN));
  double most = most_repeats (measure);
  for (gsize i = 0; i < N_DRAWN; i++) {
    y[i] = most * pow (LEAST_N / most, (double) i / (N_DRAWN - 1));
    x[i] = detectable (planning, measure, y[i], power);
  }
  SbCurve curve = { .style = style, .n_points = N_DRAWN, .x = x, .y = y };
  g_array_append_val (panel->curves, curve);
  panel->y_max = fmax (panel->y_max, most * AIR);
}

static void
add_mark (SbChartPanel *panel, double x, gsize n)
{
  SbMark mark = { .kind = SB_EVIDENCE_PEAK, .style = SB_STYLE_INK, .x = x, .y = (double) n };
  if (n > 0 && (double) n <= panel->y_max)
    g_array_append_val (panel->marks, mark);
}

/* Upright at the difference that is asked for, with a mark at each number of repeats that sees it. */
static void
add_asked (SbChartPanel *panel, const SbMeasurePlan *measure)
{
  double asked = percent (measure, measure->difference);
  SbRule rule = { .kind = SB_RULE_STATED, .upright = TRUE, .at = { asked, asked } };
  rule.label = sb_plain_sentence (g_strdup_printf ("asked for: %.3g %%", asked));
  rule.brief = sb_plain_sentence (g_strdup_printf ("%.3g %%", asked));
  g_array_append_val (panel->rules, rule);
  add_mark (panel, asked, measure->n_80);
  add_mark (panel, asked, measure->n_90);
}

/* Across at the repeats that there are, with a mark at each difference that they see. */
static void
add_present (const Planning *planning, SbChartPanel *panel, const SbMeasurePlan *measure)
{
  double n = (double) MIN (measure->n[0], measure->n[1]);
  SbRule rule = { .kind = SB_RULE_IDENTITY, .at = { planning->model->x_min, planning->model->x_max }, .intercept = n };
  rule.label = g_strdup_printf ("%.0f repeats so far", n);
  rule.brief = g_strdup_printf ("%.0f so far", n);
  g_array_append_val (panel->rules, rule);
  add_mark (panel, detectable (planning, measure, n, 0.8), (gsize) n);
  add_mark (panel, detectable (planning, measure, n, 0.9), (gsize) n);
}

/* "Peak torque slope, s = 1.2 and 0.9 % of the mean: 8 repeats show 1.7 % (80 %) or 2 % (90 %); 5 % takes 3 or 3" */
static void
set_caption (const Planning *planning, SbChartPanel *panel, const SbMeasurePlan *measure)
{
  gsize n = MIN (measure->n[0], measure->n[1]);
  g_autofree char *n_80 = sb_repeats_words (measure->n_80), *n_90 = sb_repeats_words (measure->n_90);
  GString *text = g_string_new (sb_measure_info (panel->measure)->name);
  g_string_append_printf (text, ", s = %.2g", percent (measure, measure->sd[0]));
  if (planning->two_sided)
    g_string_append_printf (text, " and %.2g", percent (measure, measure->sd[1]));
  g_string_append_printf (text,
                          " %% of the mean: %" G_GSIZE_FORMAT " repeats show %.2g %% (power 80 %%) or %.2g %% (90 %%); "
                          "%.3g %% takes %s",
                          n, detectable (planning, measure, (double) n, 0.8),
                          detectable (planning, measure, (double) n, 0.9), percent (measure, measure->difference),
                          n_80);
  if (strcmp (n_90, n_80) != 0)
    g_string_append_printf (text, " or %s", n_90);
  g_free (panel->caption);
  panel->caption = sb_plain_sentence (g_string_free (text, FALSE));
}

static void
widen_range (const Planning *planning, const SbChartPanel *panel, const SbMeasurePlan *measure)
{
  SbChartModel *model = planning->model;
  double asked = percent (measure, measure->difference);
  gboolean is_first = model->panels->len == 1;
  model->x_min = fmin (is_first ? HUGE_VAL : model->x_min, asked / AIR);
  model->x_max = fmax (is_first ? 0 : model->x_max, asked * AIR);
  for (guint i = 0; i < panel->curves->len; i++) {
    const SbCurve *curve = &g_array_index (panel->curves, SbCurve, i);
    model->x_min = fmin (model->x_min, curve->x[0] / AIR);
    model->x_max = fmax (model->x_max, curve->x[curve->n_points - 1] * AIR);
  }
}

/* No share can be taken of a mean of nothing. */
static const char *
why_not (const SbMeasurePlan *measure)
{
  if (!measure->present)
    return measure->absent_reason;
  return fabs (measure->mean) > 0 ? NULL : "the mean of the reference is 0: a difference is no share of it";
}

static void
add_panel (Planning *planning, SbMeasureId id)
{
  const SbMeasurePlan *measure = &planning->plan->measure[id];
  const char *reason = why_not (measure);
  if (reason != NULL) {
    g_string_append_printf (planning->absent, "%s%s: %s", planning->absent->len > 0 ? "; " : "",
                            sb_measure_info (id)->name, reason);
    return;
  }
  SbChartPanel *panel = sb_chart_model_add_panel (planning->model, g_strdup ("Repeats on either side"));
  panel->measure = id;
  panel->y_log = TRUE;
  panel->y_min = LEAST_N / AIR;
  panel->y_max = USUAL_N;
  add_curve (planning, panel, measure, 0.9, STYLE_90);
  add_curve (planning, panel, measure, 0.8, STYLE_80);
  widen_range (planning, panel, measure);
}

/* The range is known when every panel has its curves. */
static void
mark_panels (const Planning *planning)
{
  for (guint p = 0; p < planning->model->panels->len; p++) {
    SbChartPanel *panel = g_ptr_array_index (planning->model->panels, p);
    const SbMeasurePlan *measure = &planning->plan->measure[panel->measure];
    add_present (planning, panel, measure);
    add_asked (panel, measure);
    set_caption (planning, panel, measure);
  }
}

static void
add_legend (SbChartModel *model)
{
  const struct {
    guint style;
    const char *words;
  } entries[] = { { STYLE_80, "a power of 80 %" }, { STYLE_90, "a power of 90 %" } };
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++) {
    SbLegendEntry entry = { .style = entries[i].style, .text = g_strdup (entries[i].words), .series = -1 };
    g_array_append_val (model->legend, entry);
  }
}

static void
set_foot (const Planning *planning)
{
  SbChartModel *model = planning->model;
  g_autofree char *sides = sb_plan_sides_words (model->analysis),
                  *notes = sb_plan_notes (planning->plan, planning->measures);
  GString *foot = g_string_new (NULL);
  g_string_append_printf (foot,
                          "Repeats with which Welch’s two-sided t test at the level %.4g shows a true difference of "
                          "this size with a chance of 80 or 90 %% (noncentral t), at the scatter of %s. Dots: what the "
                          "repeats so far show, and what the difference asked for takes. Both axes are logarithmic. ",
                          planning->plan->level, sides);
  g_string_append (foot, notes);
  if (planning->absent->len > 0)
    g_string_append_printf (foot, "Not planned: %s. ", planning->absent->str);
  sb_chart_append_source (foot, model);
  g_free (model->foot);
  model->foot = g_string_free (foot, FALSE);
}

void
sb_chart_model_add_plan (SbChartModel *model, guint measures)
{
  g_autoptr (SbPlan) made = NULL;
  const SbPlan *plan = sb_analysis_planned (model->analysis, measures, &made);
  g_autoptr (GString) absent = g_string_new (NULL);
  model->x_label = g_strdup ("Difference to be shown [% of the reference mean]");
  model->foot = g_strdup ("");
  model->x_display_factor = 1;
  model->x_log = TRUE;
  model->x_min = 1; /* of an axis without anything on it */
  model->x_max = 10;
  if (plan == NULL) {
    if (model->analysis->configurations->len > 0)
      model->absent_reason = g_strdup ("No configuration has usable trials: their scatter is what repeats are planned "
                                       "from.");
    return;
  }
  Planning planning = { model, plan, measures, absent, model->analysis->comparison != NULL };
  for (guint id = 0; id < SB_N_MEASURES; id++)
    if ((measures & 1u << id) != 0)
      add_panel (&planning, (SbMeasureId) id);
  if (model->panels->len == 0) {
    model->absent_reason = g_strdup_printf ("No repeats can be planned. %s.", absent->str);
    return;
  }
  mark_panels (&planning);
  add_legend (model);
  set_foot (&planning);
}
