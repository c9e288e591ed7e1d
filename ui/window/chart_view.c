/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_view_parts.h"

#include "chart_painter.h"
#include "chart_reading.h"
#include "point_at.h"

#include <math.h>

#define REACH_PT 8.0 /* how near the pointer is to a point that is told */

G_DEFINE_FINAL_TYPE (SbChartView, sb_chart_view, GTK_TYPE_WIDGET)

static guint signals[SB_CHART_N_SIGNALS];

void
sb_chart_view_emit (SbChartView *view, SbChartSignal which, ...)
{
  va_list arguments;
  va_start (arguments, which);
  g_signal_emit_valist (view, signals[which], 0, arguments);
  va_end (arguments);
}

gboolean
sb_chart_view_has_chart (const SbChartView *view)
{
  return view->model != NULL && view->model->panels->len > 0;
}

gboolean
sb_chart_view_has_time (const SbChartView *view)
{
  return sb_chart_view_has_chart (view) && sb_view_is_over_time (view->model->view);
}

gboolean
sb_chart_view_is_laid_out (const SbChartView *view)
{
  return sb_chart_view_has_time (view) && view->layout.n_plots == view->model->panels->len
         && view->layout.plot[0].width > 0;
}

static void
snapshot_nothing (SbChartView *view, GtkSnapshot *snapshot, int width, int height)
{
  GdkRGBA grey = { 0.35f, 0.36f, 0.38f, 1 };
  const char *text = view->model == NULL ? "Reading the logs…"
                     : view->model->absent_reason != NULL
                         ? view->model->absent_reason
                         : "Nothing is drawn: every configuration at the left is switched off or "
                           "has no usable log.";
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (view), text);
  pango_layout_set_width (layout, width * PANGO_SCALE);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  int text_height;
  pango_layout_get_pixel_size (layout, NULL, &text_height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (0, (float) (height - text_height) / 2));
  gtk_snapshot_append_layout (snapshot, layout, &grey);
  gtk_snapshot_restore (snapshot);
}

static void
sb_chart_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbChartView *view = SB_CHART_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  if (width <= 0 || height <= 0)
    return;
  if (!sb_chart_view_has_chart (view)) {
    snapshot_nothing (view, snapshot, width, height);
    return;
  }
  sb_chart_view_snapshot_picture (view, snapshot, width, height);
  if (!sb_chart_view_is_laid_out (view))
    return;
  sb_chart_view_snapshot_edges (view, snapshot);
  if (!isnan (view->reading_s) && view->drag.kind != SB_DRAG_EDGE)
    sb_chart_reading_snapshot (widget, snapshot, view->model, &view->layout, SB_PX_PER_PT, view->reading_s);
  sb_chart_view_snapshot_points (view, snapshot);
}

static void
sb_chart_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  sb_chart_view_repaint (SB_CHART_VIEW (widget));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_POPOVER (child))
      gtk_popover_present (GTK_POPOVER (child));
}

static void
sb_chart_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 220;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 640 : 420;
}

void
sb_chart_view_describe (SbChartView *view)
{
  g_autofree char *chart = view->model != NULL ? sb_chart_model_describe (view->model) : g_strdup ("Nothing is drawn.");
  g_autofree char *points = sb_chart_view_points_text (view);
  g_autoptr (GString) text = g_string_new (NULL);
  if (points != NULL) {
    g_strdelimit (points, "\n", ' ');
    g_string_append_printf (text, "%s. ", points);
  }
  if (sb_chart_view_has_time (view) && !isnan (view->reading_s)) {
    g_autofree char *reading = sb_chart_reading_describe (view->model, view->reading_s);
    g_string_append_printf (text, "%s ", reading);
    guint configuration;
    if (sb_chart_view_followed (view, &configuration))
      g_string_append_printf (text, "Followed: %s in %s. ",
                              sb_analysis_configuration (view->model->analysis, configuration)->name,
                              ((SbChartPanel *) g_ptr_array_index (view->model->panels, view->panel))->label);
  }
  g_string_append (text, chart);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text->str, -1);
}

void
sb_chart_view_read_at (SbChartView *view, double time_s)
{
  view->reading_s = time_s;
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

static gboolean
on_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, SbChartView *view)
{
  gsize panel;
  if (!sb_chart_view_has_chart (view) || sb_chart_view_has_time (view) || view->stale)
    return FALSE;
  const SbPoint *point
      = sb_chart_point_at (view->model, &view->layout, x / SB_PX_PER_PT, y / SB_PX_PER_PT, REACH_PT, &panel);
  if (point == NULL)
    return FALSE;
  g_autofree char *text = sb_chart_point_text (view->model, panel, point);
  gtk_tooltip_set_text (tooltip, text);
  gtk_tooltip_set_tip_area (tooltip, &(GdkRectangle){ x - 4, y - 4, 8, 8 });
  return TRUE;
}

void
sb_chart_view_set_model (SbChartView *view, SbChartModel *model, const SbBench *bench)
{
  g_autoptr (SbChartModel) old = g_steal_pointer (&view->model);
  view->model = model;
  view->layout.n_plots = view->layout.n_callouts = 0; /* until it is painted */
  if (!sb_chart_view_has_chart (view))
    g_clear_object (&view->picture); /* of another session, perhaps */
  if (view->drag.kind == SB_DRAG_LABEL || view->drag.kind == SB_DRAG_EDGE)
    view->drag.kind = SB_DRAG_NOTHING;
  sb_chart_view_carry_over (view, old, bench);
  if (sb_chart_view_has_time (view))
    sb_chart_view_take_range (view);
  sb_chart_view_describe (view);
  sb_chart_view_repaint (view);
  sb_chart_view_emit (view, SB_CHART_RANGE_CHANGED);
}

const SbChartModel *
sb_chart_view_model (SbChartView *view)
{
  return view->model;
}

static void
sb_chart_view_init (SbChartView *view)
{
  view->reading_s = NAN;
  view->panel = view->configuration = view->callout_of = SB_NOTHING;
  view->history = sb_zoom_history_new ();
  gtk_widget_set_focusable (GTK_WIDGET (view), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (view), TRUE);
  g_signal_connect (view, "query-tooltip", G_CALLBACK (on_query_tooltip), view);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (view), "crosshair");
  gtk_widget_add_css_class (GTK_WIDGET (view), "paper");
  gtk_widget_set_overflow (GTK_WIDGET (view), GTK_OVERFLOW_HIDDEN);
  sb_chart_view_add_hands (view);
}

static void
sb_chart_view_dispose (GObject *object)
{
  SbChartView *view = SB_CHART_VIEW (object);
  for (GtkWidget *child; (child = gtk_widget_get_first_child (GTK_WIDGET (view))) != NULL;) /* what popped up */
    gtk_widget_unparent (child);
  g_clear_handle_id (&view->rest_source, g_source_remove);
  g_clear_pointer (&view->model, sb_chart_model_unref);
  g_clear_pointer (&view->history, sb_zoom_history_free);
  g_clear_object (&view->picture);
  G_OBJECT_CLASS (sb_chart_view_parent_class)->dispose (object);
}

static void
add_signals (void)
{
  GType type = SB_TYPE_CHART_VIEW;
  signals[SB_CHART_VIEW_CHOSEN] = g_signal_new ("view-chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  signals[SB_CHART_RANGE_CHANGED]
      = g_signal_new ("range-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SB_CHART_LABEL_MOVED] = g_signal_new ("label-moved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                G_TYPE_NONE, 4, G_TYPE_UINT, G_TYPE_UINT, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  signals[SB_CHART_MARK_MOVED] = g_signal_new ("mark-moved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                               3, G_TYPE_UINT, G_TYPE_INT, G_TYPE_DOUBLE);
  signals[SB_CHART_CALLOUT_ACTIVATED] = g_signal_new ("callout-activated", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                      G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_UINT);
  signals[SB_CHART_POINTS_CHANGED]
      = g_signal_new ("points-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_chart_view_class_init (SbChartViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sb_chart_view_dispose;
  widget_class->snapshot = sb_chart_view_snapshot;
  widget_class->size_allocate = sb_chart_view_size_allocate;
  widget_class->measure = sb_chart_view_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "chart");
  add_signals ();
}

GtkWidget *
sb_chart_view_new (void)
{
  SbChartView *view = g_object_new (SB_TYPE_CHART_VIEW, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, "Chart", -1);
  return GTK_WIDGET (view);
}
