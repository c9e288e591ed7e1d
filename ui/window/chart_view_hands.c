/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wheel, pinch, drag, pointer and keys on the chart. */
#include "chart_view_parts.h"

#include <math.h>

#define WHEEL_FACTOR    0.85
#define KEY_ZOOM_FACTOR 0.8
#define KEY_STEPS       200.0
#define LONG_STEP       10.0
#define PAN_STEPS       20.0
#define DRAG_FROM_PX    3.0

static gboolean
on_scroll (GtkEventControllerScroll *controller, double dx, double dy, SbChartView *view)
{
  if (!sb_chart_view_is_laid_out (view))
    return GDK_EVENT_PROPAGATE;
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));
  double sideways = (state & GDK_SHIFT_MASK) != 0 && fabs (dx) < 1e-9 ? dy : dx;
  if (fabs (sideways) > 1e-9)
    sb_chart_view_pan (view, sideways * 40 * sb_chart_view_seconds_per_px (view));
  else
    sb_chart_view_zoom_at (view, sb_chart_view_shown (view), sb_chart_view_time_at (view, view->pointer_x),
                           pow (WHEEL_FACTOR, -dy));
  return GDK_EVENT_STOP;
}

void
sb_chart_view_begin_pinch (SbChartView *view, double x_px)
{
  view->pinched_s = NAN;
  if (!sb_chart_view_is_laid_out (view))
    return;
  view->drag.range = sb_chart_view_shown (view);
  view->pinched_s = sb_chart_view_time_at (view, x_px);
  view->pinched_px = x_px;
}

/* The time between the fingers stays between them, also where both move along. Fingers that came before the picture
 * wait for the next touch: what lay between them is not known. */
void
sb_chart_view_pinch (SbChartView *view, double x_px, double scale)
{
  if (!sb_chart_view_is_laid_out (view) || isnan (view->pinched_s) || !(scale > 0))
    return;
  SbTimeRange range = sb_time_range_zoom (view->drag.range, view->all, view->pinched_s, 1 / scale);
  double s_per_px = (range.to_s - range.from_s) / (view->layout.plot[0].width * SB_PX_PER_PT);
  sb_chart_view_move_to (view, sb_time_range_pan (range, view->all, (view->pinched_px - x_px) * s_per_px));
}

static void
on_pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, SbChartView *view)
{
  double x, y;
  if (gtk_gesture_get_bounding_box_center (gesture, &x, &y))
    sb_chart_view_begin_pinch (view, x);
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, SbChartView *view)
{
  double x, y;
  if (gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    sb_chart_view_pinch (view, x, scale);
}

static SbCalloutMark *
dragged_callout (SbChartView *view)
{
  for (guint p = 0; p < view->model->panels->len; p++) {
    GArray *callouts = ((SbChartPanel *) g_ptr_array_index (view->model->panels, p))->callouts;
    for (guint i = 0; i < callouts->len; i++) {
      SbCalloutMark *mark = &g_array_index (callouts, SbCalloutMark, i);
      if (mark->configuration == view->drag.configuration && mark->index == view->drag.callout)
        return mark;
    }
  }
  return NULL;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, SbChartView *view)
{
  view->drag.kind = SB_DRAG_NOTHING;
  if (!sb_chart_view_is_laid_out (view))
    return;
  view->drag.range = sb_chart_view_shown (view);
  view->drag.kind = SB_DRAG_TIME;
  const SbCalloutPlace *place = sb_chart_layout_callout_at (&view->layout, x / SB_PX_PER_PT, y / SB_PX_PER_PT, 1);
  if (sb_chart_view_edge_at (view, x, y, &view->drag.edge)) {
    view->drag.kind = SB_DRAG_EDGE;
    view->drag.edge_s = sb_chart_view_edge_time (view, view->drag.edge);
  } else if (place != NULL) {
    view->drag.kind = SB_DRAG_LABEL;
    view->drag.configuration = place->configuration;
    view->drag.callout = place->index;
    view->drag.label[0] = (place->label.x - place->x) / view->layout.font_pt;
    view->drag.label[1] = (place->label.y + place->label.height / 2 - place->y) / view->layout.font_pt;
  }
}

static void
drag_label (SbChartView *view, double dx, double dy)
{
  SbCalloutMark *mark = dragged_callout (view);
  if (mark == NULL)
    return;
  double size = view->layout.font_pt * SB_PX_PER_PT;
  mark->label[0] = CLAMP (view->drag.label[0] + dx / size, -SB_CALLOUT_FARTHEST, SB_CALLOUT_FARTHEST);
  mark->label[1] = CLAMP (view->drag.label[1] + dy / size, -SB_CALLOUT_FARTHEST, SB_CALLOUT_FARTHEST);
  sb_chart_view_repaint (view);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SbChartView *view)
{
  if (!sb_chart_view_is_laid_out (view) || (fabs (dx) < DRAG_FROM_PX && fabs (dy) < DRAG_FROM_PX))
    return;
  double by_s = dx * sb_chart_view_seconds_per_px (view);
  switch (view->drag.kind) {
  case SB_DRAG_TIME:
    gtk_widget_set_cursor_from_name (GTK_WIDGET (view), "grabbing");
    sb_chart_view_move_to (view, sb_time_range_pan (view->drag.range, view->all, -by_s));
    break;
  case SB_DRAG_LABEL:
    drag_label (view, dx, dy);
    break;
  case SB_DRAG_EDGE:
    view->drag.edge_s
        = CLAMP (sb_chart_view_edge_time (view, view->drag.edge) + by_s, view->layout.x_min, view->layout.x_max);
    gtk_widget_queue_draw (GTK_WIDGET (view));
    break;
  case SB_DRAG_NOTHING:
    break;
  }
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, SbChartView *view)
{
  SbChartDragKind kind = view->drag.kind;
  gboolean moved = fabs (dx) >= DRAG_FROM_PX || fabs (dy) >= DRAG_FROM_PX;
  view->drag.kind = SB_DRAG_NOTHING;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (view), "crosshair");
  gtk_widget_queue_draw (GTK_WIDGET (view));
  if (!moved || !sb_chart_view_has_time (view))
    return;
  SbCalloutMark *mark = kind == SB_DRAG_LABEL ? dragged_callout (view) : NULL;
  guint configuration;
  if (mark != NULL)
    sb_chart_view_emit (view, SB_CHART_LABEL_MOVED, mark->configuration, mark->index, mark->label[0], mark->label[1]);
  else if (kind == SB_DRAG_EDGE && sb_chart_view_followed (view, &configuration))
    sb_chart_view_emit (view, SB_CHART_MARK_MOVED, configuration, (int) view->drag.edge, view->drag.edge_s);
  else if (kind == SB_DRAG_TIME)
    sb_chart_view_rest (view);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, SbChartView *view)
{
  gtk_widget_grab_focus (GTK_WIDGET (view));
  SbChartEdge edge;
  if (!sb_chart_view_is_laid_out (view) || sb_chart_view_edge_at (view, x, y, &edge))
    return;
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  if (sb_chart_view_choose_callout_at (view, x, y)) {
    if (n_press == 2)
      sb_chart_view_emit (view, SB_CHART_CALLOUT_ACTIVATED, view->callout_of, view->callout);
    return;
  }
  sb_chart_view_follow_at (view, x, y);
  if ((state & GDK_CONTROL_MASK) != 0)
    sb_chart_view_put_point (view);
  else if (n_press == 2)
    sb_chart_view_fit (view);
}

static void
on_motion (GtkEventControllerMotion *controller, double x, double y, SbChartView *view)
{
  SbChartEdge edge;
  /* What is laid out anew beneath a pointer at rest tells of it too, and must not take the line from the keys. */
  if (view->has_pointer && hypot (x - view->pointer_x, y - view->pointer_y) < 0.5)
    return;
  view->pointer_x = x;
  view->pointer_y = y;
  view->has_pointer = TRUE;
  if (!sb_chart_view_is_laid_out (view))
    return;
  if (view->drag.kind == SB_DRAG_NOTHING) {
    gboolean on_edge = sb_chart_view_edge_at (view, x, y, &edge);
    gboolean on_label = sb_chart_layout_callout_at (&view->layout, x / SB_PX_PER_PT, y / SB_PX_PER_PT, 1) != NULL;
    gtk_widget_set_cursor_from_name (GTK_WIDGET (view), on_edge ? "ew-resize" : on_label ? "grab" : "crosshair");
  }
  view->reading_s = sb_chart_view_time_at (view, x);
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

static void
on_leave (GtkEventControllerMotion *controller, SbChartView *view)
{
  view->has_pointer = FALSE;
  if (gtk_widget_get_first_child (GTK_WIDGET (view)) != NULL) /* what popped up is about the place of the line */
    return;
  view->reading_s = NAN;
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

static gboolean
on_escape (SbChartView *view)
{
  if (view->callout_of != SB_NOTHING)
    view->callout_of = SB_NOTHING;
  else if (!sb_chart_view_clear_points (view))
    view->reading_s = NAN;
  gtk_widget_queue_draw (GTK_WIDGET (view));
  return GDK_EVENT_STOP;
}

static void
step_sideways (SbChartView *view, double direction, GdkModifierType state)
{
  SbTimeRange range = sb_chart_view_shown (view);
  double step = (range.to_s - range.from_s) / KEY_STEPS;
  if ((state & GDK_SHIFT_MASK) != 0) {
    sb_chart_view_pan (view, direction * PAN_STEPS * step);
    return;
  }
  double reading = isnan (view->reading_s) ? range.from_s : view->reading_s;
  double far = (state & GDK_CONTROL_MASK) != 0 ? LONG_STEP : 1;
  sb_chart_view_read_at (view, CLAMP (reading + direction * far * step, range.from_s, range.to_s));
}

/* Arrow keys move the reading line, with Shift the time shown; up and down go from curve to curve. What takes Alt, or
 * Control with Shift, is for others. */
static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, SbChartView *view)
{
  gboolean both = (state & GDK_CONTROL_MASK) != 0 && (state & GDK_SHIFT_MASK) != 0;
  if (!sb_chart_view_is_laid_out (view) || (state & GDK_ALT_MASK) != 0 || both)
    return GDK_EVENT_PROPAGATE;
  switch (key) {
  case GDK_KEY_Left:
  case GDK_KEY_Right:
    step_sideways (view, key == GDK_KEY_Left ? -1 : 1, state);
    break;
  case GDK_KEY_Up:
  case GDK_KEY_Down:
    sb_chart_view_follow_next (view, key == GDK_KEY_Up ? -1 : 1);
    break;
  case GDK_KEY_Home:
    sb_chart_view_read_at (view, sb_chart_view_shown (view).from_s);
    break;
  case GDK_KEY_End:
    sb_chart_view_read_at (view, sb_chart_view_shown (view).to_s);
    break;
  case GDK_KEY_plus:
  case GDK_KEY_KP_Add:
    sb_chart_view_zoom (view, KEY_ZOOM_FACTOR);
    break;
  case GDK_KEY_minus:
  case GDK_KEY_KP_Subtract:
    sb_chart_view_zoom (view, 1 / KEY_ZOOM_FACTOR);
    break;
  case GDK_KEY_Escape:
    on_escape (view);
    break;
  default:
    return GDK_EVENT_PROPAGATE;
  }
  sb_chart_view_describe (view);
  return GDK_EVENT_STOP;
}

static void
add_gestures (SbChartView *view)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), view);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), view);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), view);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (drag));
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  g_signal_connect (pinch, "begin", G_CALLBACK (on_pinch_begin), view);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), view);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (pinch));
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), view);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (click));
}

void
sb_chart_view_add_hands (SbChartView *view)
{
  add_gestures (view);
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), view);
  gtk_widget_add_controller (GTK_WIDGET (view), scroll);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), view);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), view);
  gtk_widget_add_controller (GTK_WIDGET (view), motion);
  GtkEventController *key = gtk_event_controller_key_new ();
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), view);
  gtk_widget_add_controller (GTK_WIDGET (view), key);
}
