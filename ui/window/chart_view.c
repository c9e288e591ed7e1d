/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_view.h"

#include "chart_painter.h"
#include "chart_reading.h"
#include "point_at.h"
#include "time_range.h"

#include <math.h>

#define PX_PER_PT    (96.0 / 72.0)
#define FULL_SIZE_PX 860.0 /* a chart of this width has numbers of the interface's size */
#define LEAST_SIZE   0.85
#define WHEEL_FACTOR 0.85
#define REST_MS      350
#define KEY_STEPS    200.0
#define REACH_PT     8.0 /* how near the pointer is to a point that is told */

struct _SbChartView {
  GtkWidget parent_instance;
  SbChartModel *model; /* this view's own: its time range is moved while the hand moves */
  SbTimeRange all;     /* what the curves cover */
  SbChartLayout layout;
  GdkTexture *picture; /* of model, at the widget's size; NULL: to be painted */
  double reading_s;    /* NaN: no reading line */
  double pointer_x;
  SbTimeRange drag_start;
  SbTimeRange pending; /* moved to, not yet chosen */
  gboolean is_pending;
  guint rest_source;
};

G_DEFINE_FINAL_TYPE (SbChartView, sb_chart_view, GTK_TYPE_WIDGET)

enum { VIEW_CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

static gboolean
has_chart (const SbChartView *view)
{
  return view->model != NULL && view->model->panels->len > 0;
}

static void
repaint (SbChartView *view)
{
  g_clear_object (&view->picture);
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

/* The numbers on the axes beside the interface's own text: as large where there is room, smaller on a small chart. */
static double
font_pt (SbChartView *view, int width)
{
  const PangoFontDescription *font
      = pango_context_get_font_description (gtk_widget_get_pango_context (GTK_WIDGET (view)));
  double size = (double) pango_font_description_get_size (font) / PANGO_SCALE;
  double interface_pt = pango_font_description_get_size_is_absolute (font) ? size / PX_PER_PT : size;
  return interface_pt * CLAMP (width / FULL_SIZE_PX, LEAST_SIZE, 1);
}

/* A picture kept as a texture: the reading line moves over it without the curves being stroked again. */
static void
paint_picture (SbChartView *view, int width, int height)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (view));
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width * scale, height * scale);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale * PX_PER_PT, scale * PX_PER_PT);
  sb_chart_paint (view->model, cr, width / PX_PER_PT, height / PX_PER_PT, font_pt (view, width), &view->layout);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes
      = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), stride * (gsize) (height * scale),
                                    (GDestroyNotify) cairo_surface_destroy, surface);
  view->picture = gdk_memory_texture_new (width * scale, height * scale, GDK_MEMORY_DEFAULT, bytes, stride);
}

static void
snapshot_nothing (SbChartView *view, GtkSnapshot *snapshot, int width, int height)
{
  GdkRGBA grey = { 0.35f, 0.36f, 0.38f, 1 };
  const char *text = view->model == NULL                  ? "Reading the logs…"
                     : view->model->absent_reason != NULL ? view->model->absent_reason
                                                          : "Nothing is drawn. Switch a configuration on at the left.";
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
  if (!has_chart (view)) {
    snapshot_nothing (view, snapshot, width, height);
    return;
  }
  if (view->picture == NULL)
    paint_picture (view, width, height);
  gtk_snapshot_append_texture (snapshot, view->picture, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  if (!isnan (view->reading_s) && sb_view_is_over_time (view->model->view))
    sb_chart_reading_snapshot (widget, snapshot, view->model, &view->layout, PX_PER_PT, view->reading_s);
}

static void
sb_chart_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  g_clear_object (&SB_CHART_VIEW (widget)->picture);
}

static void
sb_chart_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 220;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 640 : 420;
}

static SbTimeRange
shown_range (const SbChartView *view)
{
  return (SbTimeRange){ view->model->x_min, view->model->x_max };
}

static SbTimeRange
range_of_curves (const SbChartModel *model)
{
  SbTimeRange all = { model->x_min, model->x_max };
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->curves->len; i++) {
      const SbCurve *curve = &g_array_index (panel->curves, SbCurve, i);
      if (curve->n_points == 0 || curve->thin)
        continue;
      double last = (double) (curve->n_points - 1);
      all.from_s = MIN (all.from_s, curve->x != NULL ? curve->x[0] : curve->x0);
      all.to_s = MAX (all.to_s, curve->x != NULL ? curve->x[curve->n_points - 1] : curve->x0 + last * curve->dx);
    }
  }
  return all;
}

static void
apply_range (SbChartView *view, SbTimeRange range)
{
  view->model->x_min = range.from_s;
  view->model->x_max = range.to_s;
  repaint (view);
}

static void
choose (SbChartView *view)
{
  g_clear_handle_id (&view->rest_source, g_source_remove);
  if (!view->is_pending)
    return;
  view->is_pending = FALSE;
  gboolean all = sb_time_range_covers (view->pending, view->all);
  g_signal_emit (view, signals[VIEW_CHOSEN], 0, all ? (double) NAN : view->pending.from_s,
                 all ? (double) NAN : view->pending.to_s);
}

static gboolean
on_rest (gpointer user_data)
{
  SbChartView *view = user_data;
  view->rest_source = 0;
  choose (view);
  return G_SOURCE_REMOVE;
}

static void
move_to (SbChartView *view, SbTimeRange range)
{
  apply_range (view, range);
  view->pending = range;
  view->is_pending = TRUE;
  g_clear_handle_id (&view->rest_source, g_source_remove);
  view->rest_source = g_timeout_add (REST_MS, on_rest, view);
}

static double
time_at (const SbChartView *view, double x_px)
{
  return sb_chart_layout_time_at (&view->layout, x_px / PX_PER_PT);
}

/* Of what is drawn over time there is a range to be moved. */
static gboolean
has_time (const SbChartView *view)
{
  return has_chart (view) && sb_view_is_over_time (view->model->view);
}

static gboolean
is_laid_out (const SbChartView *view)
{
  return has_time (view) && view->layout.n_plots > 0 && view->layout.plot[0].width > 0;
}

static double
seconds_per_px (const SbChartView *view)
{
  return (view->layout.x_max - view->layout.x_min) / (view->layout.plot[0].width * PX_PER_PT);
}

static gboolean
on_scroll (GtkEventControllerScroll *controller, double dx, double dy, SbChartView *view)
{
  if (!is_laid_out (view))
    return GDK_EVENT_PROPAGATE;
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));
  double sideways = (state & GDK_SHIFT_MASK) != 0 && fabs (dx) < 1e-9 ? dy : dx;
  SbTimeRange range = shown_range (view);
  if (fabs (sideways) > 1e-9)
    move_to (view, sb_time_range_pan (range, view->all, sideways * 40 * seconds_per_px (view)));
  else
    move_to (view, sb_time_range_zoom (range, view->all, time_at (view, view->pointer_x), pow (WHEEL_FACTOR, -dy)));
  return GDK_EVENT_STOP;
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, SbChartView *view)
{
  double x, y;
  if (!is_laid_out (view) || scale <= 0 || !gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    return;
  move_to (view, sb_time_range_zoom (view->drag_start, view->all, time_at (view, x), 1 / scale));
}

static void
on_gesture_begin (GtkGesture *gesture, GdkEventSequence *sequence, SbChartView *view)
{
  if (has_time (view))
    view->drag_start = shown_range (view);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SbChartView *view)
{
  if (!is_laid_out (view) || fabs (dx) < 3)
    return;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (view), "grabbing");
  move_to (view, sb_time_range_pan (view->drag_start, view->all, -dx * seconds_per_px (view)));
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, SbChartView *view)
{
  gtk_widget_set_cursor_from_name (GTK_WIDGET (view), "crosshair");
  choose (view);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, SbChartView *view)
{
  gtk_widget_grab_focus (GTK_WIDGET (view));
  if (n_press == 2)
    sb_chart_view_fit (view);
}

static void
set_reading (SbChartView *view, double time_s)
{
  view->reading_s = time_s;
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

static void
on_motion (GtkEventControllerMotion *controller, double x, double y, SbChartView *view)
{
  view->pointer_x = x;
  if (is_laid_out (view))
    set_reading (view, time_at (view, x));
}

static void
on_leave (GtkEventControllerMotion *controller, SbChartView *view)
{
  set_reading (view, NAN);
}

static void
describe (SbChartView *view)
{
  g_autofree char *chart = view->model != NULL ? sb_chart_model_describe (view->model) : g_strdup ("Nothing is drawn.");
  g_autofree char *reading
      = has_time (view) && !isnan (view->reading_s) ? sb_chart_reading_describe (view->model, view->reading_s) : NULL;
  g_autofree char *text = reading != NULL ? g_strconcat (reading, " ", chart, NULL) : g_strdup (chart);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
}

/* Arrow keys move the reading line, with Shift the time shown. */
static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, SbChartView *view)
{
  if (!is_laid_out (view))
    return GDK_EVENT_PROPAGATE;
  SbTimeRange range = shown_range (view);
  double step = (range.to_s - range.from_s) / KEY_STEPS;
  double reading = isnan (view->reading_s) ? range.from_s : view->reading_s;
  double direction = key == GDK_KEY_Left ? -1 : 1;
  switch (key) {
  case GDK_KEY_Left:
  case GDK_KEY_Right:
    if ((state & GDK_SHIFT_MASK) != 0)
      move_to (view, sb_time_range_pan (range, view->all, direction * 20 * step));
    else
      set_reading (view, CLAMP (reading + direction * step, range.from_s, range.to_s));
    break;
  case GDK_KEY_Home:
    set_reading (view, range.from_s);
    break;
  case GDK_KEY_End:
    set_reading (view, range.to_s);
    break;
  case GDK_KEY_Escape:
    set_reading (view, NAN);
    break;
  default:
    return GDK_EVENT_PROPAGATE;
  }
  describe (view);
  return GDK_EVENT_STOP;
}

static gboolean
on_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, SbChartView *view)
{
  gsize panel;
  if (!has_chart (view) || has_time (view) || view->picture == NULL)
    return FALSE;
  const SbPoint *point = sb_chart_point_at (view->model, &view->layout, x / PX_PER_PT, y / PX_PER_PT, REACH_PT, &panel);
  if (point == NULL)
    return FALSE;
  g_autofree char *text = sb_chart_point_text (view->model, panel, point);
  gtk_tooltip_set_text (tooltip, text);
  gtk_tooltip_set_tip_area (tooltip, &(GdkRectangle){ x - 4, y - 4, 8, 8 });
  return TRUE;
}

void
sb_chart_view_set_model (SbChartView *view, SbChartModel *model)
{
  g_clear_pointer (&view->model, sb_chart_model_unref);
  view->model = model;
  if (has_time (view)) {
    view->all = range_of_curves (model);
    if (view->is_pending)
      apply_range (view, view->pending);
  }
  describe (view);
  repaint (view);
}

void
sb_chart_view_fit (SbChartView *view)
{
  if (!has_time (view))
    return;
  move_to (view, view->all);
  choose (view);
}

void
sb_chart_view_zoom (SbChartView *view, double factor)
{
  if (!has_time (view))
    return;
  SbTimeRange range = shown_range (view);
  double centre = isnan (view->reading_s) ? (range.from_s + range.to_s) / 2 : view->reading_s;
  move_to (view, sb_time_range_zoom (range, view->all, centre, factor));
}

static void
add_gesture (SbChartView *view, GtkGesture *gesture)
{
  g_signal_connect (gesture, "begin", G_CALLBACK (on_gesture_begin), view);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (gesture));
}

static void
sb_chart_view_init (SbChartView *view)
{
  view->reading_s = NAN;
  gtk_widget_set_focusable (GTK_WIDGET (view), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (view), TRUE);
  g_signal_connect (view, "query-tooltip", G_CALLBACK (on_query_tooltip), view);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (view), "crosshair");
  gtk_widget_add_css_class (GTK_WIDGET (view), "paper");
  gtk_widget_set_overflow (GTK_WIDGET (view), GTK_OVERFLOW_HIDDEN);

  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), view);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), view);
  add_gesture (view, drag);
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), view);
  add_gesture (view, pinch);
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), view);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (click));

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

static void
sb_chart_view_dispose (GObject *object)
{
  SbChartView *view = SB_CHART_VIEW (object);
  g_clear_handle_id (&view->rest_source, g_source_remove);
  g_clear_pointer (&view->model, sb_chart_model_unref);
  g_clear_object (&view->picture);
  G_OBJECT_CLASS (sb_chart_view_parent_class)->dispose (object);
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
  signals[VIEW_CHOSEN] = g_signal_new ("view-chosen", SB_TYPE_CHART_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
}

GtkWidget *
sb_chart_view_new (void)
{
  SbChartView *view = g_object_new (SB_TYPE_CHART_VIEW, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, "Chart", -1);
  return GTK_WIDGET (view);
}
