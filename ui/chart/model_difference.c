/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The difference of the compared pair over time: a panel under (or in place of) each response, with both bands and the
 * stretches in which it leaves zero. */
#include "model_parts.h"
#include "results_pair.h"

#include <math.h>

/* Stretches that are told in words; the others are counted. */
#define MOST_TOLD 3

static const SbDifferenceCurve *
difference_of (const SbChartModel *model, SbPanel which)
{
  return model->analysis->difference[sb_panel_channel (which)];
}

static double *
edge (SbChartModel *model, const SbDifferenceCurve *difference, const double *half, double sign)
{
  double *y = sb_chart_model_keep (model, g_new (double, difference->n_points));
  for (gsize k = 0; k < difference->n_points; k++)
    y[k] = difference->difference[k] + sign * half[k];
  return y;
}

static SbCurve
curve_of (const SbChartModel *model, const SbDifferenceCurve *difference, const double *y, gboolean thin)
{
  return (SbCurve){
    .configuration = (guint) model->analysis->bench->other,
    .style = SB_STYLE_INK,
    .n_points = difference->n_points,
    .x0 = sb_difference_curve_time (difference, 0),
    .dx = difference->step_s,
    .y = y,
    .thin = thin,
  };
}

/* The band at all instants together as an area, the one of a single instant as its two edges. */
static void
add_curves (SbChartModel *model, SbChartPanel *panel, const SbDifferenceCurve *difference)
{
  SbCurve mean = curve_of (model, difference, difference->difference, FALSE);
  SbBandArea band = {
    .configuration = mean.configuration,
    .style = SB_STYLE_INK,
    .n_points = mean.n_points,
    .x0 = mean.x0,
    .dx = mean.dx,
    .lower = edge (model, difference, difference->half_simultaneous, -1),
    .upper = edge (model, difference, difference->half_simultaneous, 1),
  };
  g_array_append_val (panel->bands, band);
  for (int sign = -1; sign <= 1; sign += 2) {
    SbCurve side = curve_of (model, difference, edge (model, difference, difference->half_pointwise, sign), TRUE);
    g_array_append_val (panel->curves, side);
  }
  g_array_append_val (panel->curves, mean);
}

static void
append_time (GString *text, const SbChartModel *model, double time_s)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  double range = (model->x_max - model->x_min) * model->x_display_factor;
  double shown = time_s * model->x_display_factor;
  int decimals = (int) CLAMP (ceil (2 - log10 (range)), 0, 6);
  g_autofree char *format = g_strdup_printf ("%%.%df", decimals);
  g_string_append (text, shown < 0 ? "−" : "");
  g_string_append (text, g_ascii_formatd (number, sizeof number, format, fabs (shown)));
}

static gboolean
is_shown (const SbChartModel *model, const SbDifferenceStretch *stretch)
{
  return stretch->to_s >= model->x_min && stretch->from_s <= model->x_max;
}

/* "1: 2.0 to 9.8 ms (beyond at 72 % of the instants) (+5.1 N·m)" */
static void
append_stretch (GString *text, const SbChartModel *model, const SbDifferenceCurve *difference,
                const SbDifferenceStretch *stretch, guint number, gboolean is_first)
{
  gint64 k = (gint64) round (stretch->at_s / difference->step_s) - difference->first;
  double half = difference->half_simultaneous[k];
  SbShownUnit unit = sb_channel_shown_unit (difference->channel, model->analysis->bench->units);
  g_autofree char *largest = sb_number_format (unit.factor * fabs (stretch->largest), unit.factor * half);
  g_string_append_printf (text, "%s%u: ", is_first ? "" : ", ", number);
  append_time (text, model, stretch->from_s);
  if (stretch->to_s > stretch->from_s) {
    g_string_append (text, " to ");
    append_time (text, model, stretch->to_s);
  }
  g_autofree char *share = sb_stretch_share_words (stretch);
  g_string_append_printf (text, " %s%s (%s%s %s)", model->x_display_factor > 1 ? "ms" : "s", share,
                          stretch->largest < 0 ? "−" : "+", largest, unit.name);
}

/* Those within what is shown, numbered as they are drawn: the largest in words, the others by their count. */
static void
append_shown (GString *text, const SbChartModel *model, const SbDifferenceCurve *difference)
{
  guint n = 0, n_told = 0;
  for (guint i = 0; i < difference->stretches->len; i++) {
    const SbDifferenceStretch *stretch = &g_array_index (difference->stretches, SbDifferenceStretch, i);
    if (!is_shown (model, stretch))
      continue;
    n++;
    if (sb_difference_stretch_is_large (difference, i, MOST_TOLD, model->x_min, model->x_max))
      append_stretch (text, model, difference, stretch, n, n_told++ == 0);
  }
  if (n > n_told)
    g_string_append_printf (text, " and %u smaller", n - n_told);
}

/* "11 stretches, 1 of them outside what is shown" (transfer full) */
static char *
count_words (guint n, guint n_shown)
{
  const char *plural = n == 1 ? "" : "es";
  if (n_shown == n)
    return g_strdup_printf ("%u stretch%s", n, plural);
  if (n_shown == 0)
    return g_strdup_printf ("%u stretch%s, %soutside what is shown", n, plural, n == 1 ? "" : "all ");
  return g_strdup_printf ("%u stretches, %u of them outside what is shown", n, n - n_shown);
}

static void
set_caption (SbChartModel *model, SbChartPanel *panel, const SbDifferenceCurve *difference)
{
  const SbBench *bench = model->analysis->bench;
  const char *reference = sb_analysis_configuration (model->analysis, (guint) bench->reference)->name;
  const char *other = sb_analysis_configuration (model->analysis, (guint) bench->other)->name;
  guint n = difference->stretches->len, n_shown = panel->stretches->len;
  g_autofree char *count = count_words (n, n_shown);
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "%s − %s, %s", other, reference,
                          n == 0 ? "nowhere away from zero" : "away from zero in ");
  if (n > 0 && n_shown == 0)
    g_string_append (text, count);
  append_shown (text, model, difference);
  if (n_shown > 0 && n_shown < n)
    g_string_append_printf (text, "; %u outside what is shown", n - n_shown);
  g_free (panel->caption);
  panel->caption = g_string_free (text, FALSE);
  panel->brief = n == 0 ? g_strdup_printf ("%s − %s: nowhere away from zero", other, reference)
                        : g_strdup_printf ("%s − %s: away from zero in %s", other, reference, count);
}

void
sb_chart_model_add_difference (SbChartModel *model, SbPanel which)
{
  const SbDifferenceCurve *difference = difference_of (model, which);
  if (difference == NULL || !difference->present)
    return;
  SbChannel channel = difference->channel;
  const char *unit = sb_channel_shown_unit (channel, model->analysis->bench->units).name;
  SbChartPanel *panel
      = sb_chart_model_add_panel (model, g_strdup_printf ("Δ %s [%s]", sb_channel_name (channel), unit));
  panel->panel = which;
  panel->difference = TRUE;
  add_curves (model, panel, difference);
  for (guint i = 0; i < difference->stretches->len; i++) {
    const SbDifferenceStretch *stretch = &g_array_index (difference->stretches, SbDifferenceStretch, i);
    SbTimeStretch shaded = { stretch->from_s, stretch->to_s, panel->stretches->len + 1 };
    if (is_shown (model, stretch))
      g_array_append_val (panel->stretches, shaded);
  }
  set_caption (model, panel, difference);
}

/* Why a panel that was asked for shows no difference; NULL when it does. */
static const char *
reason_of (const SbChartModel *model, SbPanel which)
{
  const SbDifferenceCurve *difference = difference_of (model, which);
  if (difference == NULL && (which == SB_PANEL_ANGLE || which == SB_PANEL_COMMAND))
    return "it is worked out for velocity and torque";
  if (difference == NULL)
    return "both sides need results";
  return difference->present ? NULL : difference->absent_reason;
}

void
sb_chart_model_explain_no_difference (SbChartModel *model)
{
  const SbBench *bench = model->analysis->bench;
  SbPanel asked[SB_N_PANELS];
  gsize n = sb_bench_panels (bench, asked);
  if (model->panels->len > 0 || model->analysis->configurations->len == 0)
    return;
  if (bench->reference < 0 || bench->other < 0 || bench->reference == bench->other)
    model->absent_reason = g_strdup ("Choose a reference and an other configuration: their difference is drawn.");
  else
    model->absent_reason = g_strdup_printf ("There is no difference to draw: %s.", reason_of (model, asked[n - 1]));
}

/* Of the pair that is drawn; one sentence for both channels. */
void
sb_chart_append_difference (GString *foot, const SbChartModel *model)
{
  SbPanel asked[SB_N_PANELS];
  gsize n = sb_bench_panels (model->analysis->bench, asked);
  gboolean told = FALSE;
  for (gsize p = 0; p < n; p++) {
    const SbDifferenceCurve *difference = difference_of (model, asked[p]);
    g_autofree char *name = g_utf8_strdown (sb_channel_name (sb_panel_channel (asked[p])), -1);
    if (reason_of (model, asked[p]) != NULL) {
      g_string_append_printf (foot, "No difference of the %s: %s. ", name, reason_of (model, asked[p]));
      continue;
    }
    if (told)
      continue;
    told = TRUE;
    g_string_append_printf (foot,
                            "Difference: other minus reference, n = %" G_GSIZE_FORMAT " and %" G_GSIZE_FORMAT
                            ". Filled band: 95 %% at all instants together (%s); thin lines: "
                            "95 %% at one instant (Student). Shaded: where the filled band leaves zero, returns to it "
                            "included that are one instant or stay beyond the thin lines on average. ",
                            difference->n_other, difference->n_reference,
                            difference->by_bound ? "Bonferroni's bound over the instants"
                                                 : "simulated studentized curves");
  }
}
