/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The curve that is followed, the two points that are compared, the callout that is chosen: all are looked up anew when
 * the results change, so that they stay with their data. */
#include "chart_view_parts.h"

#include "chart_reading.h"

#include <math.h>
#include <string.h>

#define RING_PX 4.0

static const SbChartPanel *
panel_of (const SbChartModel *model, guint panel)
{
  return g_ptr_array_index (model->panels, panel);
}

static double
value_at (const SbChartView *view, guint panel, guint configuration, double time_s)
{
  return sb_chart_model_value_at (view->model, panel, configuration, time_s);
}

static gboolean
has_curve (const SbChartModel *model, guint panel, guint configuration)
{
  if (panel >= model->panels->len || panel_of (model, panel)->is_path)
    return FALSE;
  const GArray *curves = panel_of (model, panel)->curves;
  for (guint i = 0; i < curves->len; i++) {
    const SbCurve *curve = &g_array_index (curves, SbCurve, i);
    if (!curve->thin && curve->configuration == configuration)
      return TRUE;
  }
  return FALSE;
}

/* The place in a row of all curves, panel by panel; n_curves: none. */
static guint
place_of (const SbChartView *view, guint panel, guint configuration)
{
  guint n = view->model->legend->len;
  for (guint i = 0; i < n; i++)
    if (g_array_index (view->model->legend, SbLegendEntry, i).configuration == configuration)
      return panel * n + i;
  return view->model->panels->len * n;
}

/* The next curve after `place`, in either direction, that is drawn. */
static void
follow_from (SbChartView *view, guint place, int direction)
{
  guint n = view->model->legend->len, n_all = view->model->panels->len * n;
  for (guint k = 0; k < n_all; k++) {
    place = direction > 0 ? (place + 1) % n_all : (MIN (place, n_all) + n_all - 1) % n_all;
    guint configuration = g_array_index (view->model->legend, SbLegendEntry, place % n).configuration;
    if (has_curve (view->model, place / n, configuration)) {
      view->panel = place / n;
      view->configuration = configuration;
      return;
    }
  }
  view->panel = view->configuration = SB_NOTHING;
}

void
sb_chart_view_follow_next (SbChartView *view, int direction)
{
  if (!sb_chart_view_has_time (view) || view->model->legend->len == 0)
    return;
  follow_from (view, place_of (view, view->panel, view->configuration), direction);
  if (isnan (view->reading_s))
    view->reading_s = sb_chart_view_shown (view).from_s;
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

void
sb_chart_view_follow (SbChartView *view, guint panel, guint configuration)
{
  if (view->model == NULL || !has_curve (view->model, panel, configuration))
    return;
  view->panel = panel;
  view->configuration = configuration;
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

void
sb_chart_view_follow_at (SbChartView *view, double x, double y)
{
  if (!sb_chart_view_is_laid_out (view))
    return;
  double least = HUGE_VAL, time_s = sb_chart_view_time_at (view, x);
  for (guint p = 0; p < view->model->panels->len; p++)
    for (guint i = 0; i < view->model->legend->len; i++) {
      guint configuration = g_array_index (view->model->legend, SbLegendEntry, i).configuration;
      double value = value_at (view, p, configuration, time_s);
      double away = fabs (sb_chart_layout_y_of (&view->layout, p, value) * SB_PX_PER_PT - y);
      if (!(away < least))
        continue;
      least = away;
      view->panel = p;
      view->configuration = configuration;
    }
  sb_chart_view_read_at (view, time_s);
  sb_chart_view_describe (view);
}

gboolean
sb_chart_view_followed (SbChartView *view, guint *configuration)
{
  if (view->model == NULL || view->configuration == SB_NOTHING)
    return FALSE;
  *configuration = view->configuration;
  return TRUE;
}

gboolean
sb_chart_view_spot (SbChartView *view, SbChartSpot *spot)
{
  if (!sb_chart_view_has_time (view) || view->configuration == SB_NOTHING || isnan (view->reading_s))
    return FALSE;
  *spot = (SbChartSpot){ view->panel, view->configuration, view->reading_s, 0 };
  spot->value = value_at (view, spot->panel, spot->configuration, spot->time_s);
  return !isnan (spot->value);
}

void
sb_chart_view_put_point (SbChartView *view)
{
  SbChartSpot spot;
  if (!sb_chart_view_spot (view, &spot))
    return;
  if (view->n_points == 2)
    view->n_points = 0;
  view->point[view->n_points++] = spot;
  sb_chart_view_describe (view);
  gtk_widget_queue_draw (GTK_WIDGET (view));
  sb_chart_view_emit (view, SB_CHART_POINTS_CHANGED);
}

gboolean
sb_chart_view_clear_points (SbChartView *view)
{
  if (view->n_points == 0)
    return FALSE;
  view->n_points = 0;
  gtk_widget_queue_draw (GTK_WIDGET (view));
  sb_chart_view_emit (view, SB_CHART_POINTS_CHANGED);
  return TRUE;
}

/* The same panel and configuration in another model; FALSE: they are not drawn there. */
static gboolean
find_again (const SbChartModel *old, const SbChartModel *model, guint *panel, guint *configuration)
{
  const char *label = panel_of (old, *panel)->label;
  const char *name = sb_analysis_configuration (old->analysis, *configuration)->name;
  for (guint p = 0; p < model->panels->len; p++)
    for (guint i = 0; i < model->legend->len; i++) {
      guint index = g_array_index (model->legend, SbLegendEntry, i).configuration;
      if (!g_str_equal (panel_of (model, p)->label, label)
          || !g_str_equal (sb_analysis_configuration (model->analysis, index)->name, name)
          || !has_curve (model, p, index))
        continue;
      *panel = p;
      *configuration = index;
      return TRUE;
    }
  return FALSE;
}

static SbPointGround
ground_of (const SbChartPanel *panel)
{
  return panel->difference ? SB_POINT_ON_DIFFERENCE : panel->derived != NULL ? SB_POINT_ON_SLOPE : SB_POINT_ON_CURVE;
}

guint
sb_chart_view_points (SbChartView *view, guint configuration[SB_N_CHART_POINTS], SbChartPoint point[SB_N_CHART_POINTS])
{
  for (guint k = 0; k < view->n_points; k++) {
    const SbChartSpot *spot = &view->point[k];
    const SbChartPanel *panel = panel_of (view->model, spot->panel);
    configuration[k] = spot->configuration;
    point[k] = (SbChartPoint){ TRUE, panel->panel, ground_of (panel), spot->time_s };
  }
  return view->n_points;
}

/* The curve of configuration c that the point is on; FALSE: it is not drawn. */
static gboolean
find_point (const SbChartModel *model, guint c, const SbChartPoint *point, SbChartSpot *spot)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = panel_of (model, p);
    if (panel->panel != point->panel || ground_of (panel) != point->on || !has_curve (model, p, c))
      continue;
    *spot = (SbChartSpot){ p, c, point->time_s, sb_chart_model_value_at (model, p, c, point->time_s) };
    return TRUE;
  }
  return FALSE;
}

/* The configuration of the results that has this name; FALSE: none. */
static gboolean
find_result (const SbAnalysis *analysis, const char *name, guint *index)
{
  for (guint c = 0; c < analysis->configurations->len; c++)
    if (g_str_equal (sb_analysis_configuration (analysis, c)->name, name)) {
      *index = c;
      return TRUE;
    }
  return FALSE;
}

/* The points that the bench holds, as far as their curves are drawn: a second one alone tells nothing. */
static void
take_points (SbChartView *view, const SbBench *bench)
{
  view->n_points = 0;
  if (!sb_chart_view_has_time (view))
    return;
  for (guint k = 0; k < SB_N_CHART_POINTS; k++)
    for (guint c = 0, shown; c < bench->configurations->len && view->n_points == k; c++) {
      const SbConfiguration *configuration = sb_bench_configuration (bench, c);
      if (configuration->point[k].is_put && find_result (view->model->analysis, configuration->name, &shown)
          && find_point (view->model, shown, &configuration->point[k], &view->point[k]))
        view->n_points = k + 1;
    }
}

void
sb_chart_view_carry_over (SbChartView *view, const SbChartModel *old, const SbBench *bench)
{
  const SbChartModel *model = view->model;
  gboolean had = old != NULL && model != NULL && view->configuration != SB_NOTHING;
  if (!had || !find_again (old, model, &view->panel, &view->configuration)) {
    view->panel = view->configuration = SB_NOTHING;
    if (sb_chart_view_has_time (view) && model->legend->len > 0)
      follow_from (view, model->panels->len * model->legend->len - 1, 1);
  }
  take_points (view, bench);
  if (view->callout_of != SB_NOTHING
      && (model == NULL || view->callout_of >= model->analysis->configurations->len
          || view->callout >= sb_bench_configuration (model->analysis->bench, view->callout_of)->callouts->len))
    view->callout_of = SB_NOTHING;
}

/* "N·m" of "Torque [N·m]". (transfer full) */
static char *
unit_of (const SbChartPanel *panel)
{
  const char *open = strrchr (panel->label, '['), *close = strrchr (panel->label, ']');
  return open != NULL && close > open ? g_strndup (open + 1, (gsize) (close - open - 1)) : g_strdup ("");
}

/* (transfer full) */
static char *
slope_text (const SbChartPanel *panel, SbUnits units, double per_s)
{
  g_autofree char *unit = unit_of (panel);
  gboolean is_torque = g_str_equal (unit, "N·m");
  SbShownUnit of_torque = sb_measure_shown_unit (SB_MEASURE_MEAN_TORQUE_SLOPE, units);
  const char *slope_unit = is_torque                     ? of_torque.name
                           : g_str_equal (unit, "rad/s") ? "rad/s²"
                           : g_str_equal (unit, "rad")   ? "rad/s"
                                                         : NULL;
  double shown = is_torque ? per_s * of_torque.factor : per_s;
  int decimals = fabs (shown) > 0 ? CLAMP (3 - (int) floor (log10 (fabs (shown))), 0, 9) : 0;
  g_autofree char *number = sb_chart_reading_number (shown, decimals);
  return slope_unit != NULL ? g_strdup_printf ("%s %s", number, slope_unit)
                            : g_strdup_printf ("%s %s per s", number, unit);
}

char *
sb_chart_view_points_text (SbChartView *view)
{
  if (view->n_points == 0 || !sb_chart_view_has_time (view))
    return NULL;
  const SbChartSpot *a = &view->point[0], *b = &view->point[1];
  if (view->n_points == 1) {
    g_autofree char *time = sb_chart_reading_time (view->model, a->time_s);
    return g_strdup_printf ("First point at %s", time);
  }
  g_autofree char *time = sb_chart_reading_time (view->model, b->time_s - a->time_s);
  double rise
      = value_at (view, b->panel, b->configuration, b->time_s) - value_at (view, a->panel, a->configuration, a->time_s);
  if (a->panel != b->panel || isnan (rise))
    return g_strdup_printf ("Δt %s", time);
  const SbChartPanel *panel = panel_of (view->model, a->panel);
  g_autofree char *unit = unit_of (panel), *value = sb_chart_reading_value (panel, rise);
  if (!(fabs (b->time_s - a->time_s) > 0))
    return g_strdup_printf ("Δt %s\nΔy %s %s", time, value, unit);
  g_autofree char *slope = slope_text (panel, view->model->analysis->bench->units, rise / (b->time_s - a->time_s));
  return g_strdup_printf ("Δt %s\nΔy %s %s\nslope %s", time, value, unit, slope);
}

static gboolean
place_on (const SbChartView *view, guint panel, guint configuration, double time_s, graphene_point_t *at)
{
  double value = value_at (view, panel, configuration, time_s);
  if (isnan (value) || time_s < view->layout.x_min || time_s > view->layout.x_max)
    return FALSE;
  at->x = (float) sb_chart_view_x_of (view, time_s);
  at->y = (float) (sb_chart_layout_y_of (&view->layout, panel, value) * SB_PX_PER_PT);
  return TRUE;
}

static void
draw_ring (cairo_t *cr, const graphene_point_t *at, gboolean filled)
{
  cairo_new_path (cr);
  cairo_arc (cr, (double) at->x, (double) at->y, RING_PX, 0, 2 * G_PI);
  cairo_set_source_rgb (cr, filled ? 0.1 : 1, filled ? 0.1 : 1, filled ? 0.12 : 1);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 0.1, 0.1, 0.12);
  cairo_set_line_width (cr, 1.5);
  cairo_stroke (cr);
}

static void
draw_points (SbChartView *view, cairo_t *cr, graphene_point_t at[2], gboolean has[2])
{
  for (guint k = 0; k < view->n_points; k++) {
    const SbChartSpot *point = &view->point[k];
    has[k] = place_on (view, point->panel, point->configuration, point->time_s, &at[k]);
  }
  if (has[0] && has[1]) {
    cairo_move_to (cr, (double) at[0].x, (double) at[0].y);
    cairo_line_to (cr, (double) at[1].x, (double) at[1].y);
    cairo_set_source_rgb (cr, 0.1, 0.1, 0.12);
    cairo_set_line_width (cr, 1);
    cairo_set_dash (cr, (double[]){ 3, 2 }, 2, 0);
    cairo_stroke (cr);
    cairo_set_dash (cr, NULL, 0, 0);
  }
  for (guint k = 0; k < view->n_points; k++)
    if (has[k])
      draw_ring (cr, &at[k], TRUE);
}

static void
draw_chosen_callout (SbChartView *view, cairo_t *cr)
{
  for (gsize i = 0; i < view->layout.n_callouts; i++) {
    const SbCalloutPlace *place = &view->layout.callout[i];
    if (place->configuration != view->callout_of || place->index != view->callout)
      continue;
    cairo_rectangle (cr, place->label.x * SB_PX_PER_PT - 2, place->label.y * SB_PX_PER_PT - 2,
                     place->label.width * SB_PX_PER_PT + 4, place->label.height * SB_PX_PER_PT + 4);
    cairo_set_source_rgb (cr, 0.1, 0.1, 0.12);
    cairo_set_line_width (cr, 1.5);
    cairo_set_dash (cr, (double[]){ 4, 2 }, 2, 0);
    cairo_stroke (cr);
    cairo_set_dash (cr, NULL, 0, 0);
  }
}

void
sb_chart_view_snapshot_points (SbChartView *view, GtkSnapshot *snapshot)
{
  int width = gtk_widget_get_width (GTK_WIDGET (view)), height = gtk_widget_get_height (GTK_WIDGET (view));
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  graphene_point_t at[2], here;
  gboolean has[2] = { FALSE, FALSE };
  draw_points (view, cr, at, has);
  if (view->callout_of != SB_NOTHING)
    draw_chosen_callout (view, cr);
  if (!isnan (view->reading_s) && view->configuration != SB_NOTHING
      && place_on (view, view->panel, view->configuration, view->reading_s, &here))
    draw_ring (cr, &here, FALSE);
  cairo_destroy (cr);
  g_autofree char *text = sb_chart_view_points_text (view);
  guint last = view->n_points - 1;
  if (text != NULL && view->n_points == 2 && has[last])
    sb_chart_reading_box (GTK_WIDGET (view), snapshot, text, (double) at[last].x + 10, (double) at[last].y + 10);
}

gboolean
sb_chart_view_chosen_callout (SbChartView *view, guint *configuration, guint *callout)
{
  if (view->model == NULL || view->callout_of == SB_NOTHING)
    return FALSE;
  *configuration = view->callout_of;
  *callout = view->callout;
  return TRUE;
}

gboolean
sb_chart_view_callout_label (SbChartView *view, double label[2])
{
  for (gsize i = 0; i < view->layout.n_callouts; i++) {
    const SbCalloutPlace *place = &view->layout.callout[i];
    if (place->configuration != view->callout_of || place->index != view->callout)
      continue;
    label[0] = (place->label.x - place->x) / view->layout.font_pt;
    label[1] = (place->label.y + place->label.height / 2 - place->y) / view->layout.font_pt;
    return TRUE;
  }
  return FALSE;
}

void
sb_chart_view_choose_callout (SbChartView *view, guint configuration, guint callout)
{
  view->callout_of = configuration;
  view->callout = callout;
  sb_chart_view_describe (view);
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

gboolean
sb_chart_view_choose_callout_at (SbChartView *view, double x, double y)
{
  const SbCalloutPlace *place = sb_chart_layout_callout_at (&view->layout, x / SB_PX_PER_PT, y / SB_PX_PER_PT, 2);
  if (!sb_chart_view_is_laid_out (view) || place == NULL) {
    view->callout_of = SB_NOTHING;
    gtk_widget_queue_draw (GTK_WIDGET (view));
    return FALSE;
  }
  sb_chart_view_choose_callout (view, place->configuration, place->index);
  return TRUE;
}

void
sb_chart_view_choose_next_callout (SbChartView *view)
{
  gsize n = view->layout.n_callouts, next = 0;
  if (!sb_chart_view_is_laid_out (view) || n == 0)
    return;
  for (gsize i = 0; i < n; i++)
    if (view->layout.callout[i].configuration == view->callout_of && view->layout.callout[i].index == view->callout)
      next = (i + 1) % n;
  const SbCalloutPlace *place = &view->layout.callout[next];
  view->reading_s = sb_chart_view_time_at (view, place->x * SB_PX_PER_PT);
  sb_chart_view_choose_callout (view, place->configuration, place->index);
}

GdkRectangle
sb_chart_view_place (SbChartView *view)
{
  SbChartSpot spot;
  graphene_point_t at;
  if (sb_chart_view_spot (view, &spot) && place_on (view, spot.panel, spot.configuration, spot.time_s, &at))
    return (GdkRectangle){ (int) at.x - 3, (int) at.y - 3, 6, 6 };
  return (GdkRectangle){ gtk_widget_get_width (GTK_WIDGET (view)) / 2, 40, 1, 1 };
}
