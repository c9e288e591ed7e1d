/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "step_plot.h"

#include "axis_scale.h"
#include "reduce.h"

#include <math.h>

#define LEFT_PX      54
#define RIGHT_PX     14
#define TOP_PX       36
#define BOTTOM_PX    44
#define NEAR_PX      7 /* to a line, to take hold of it */
#define AIR_SHARE    0.06
#define NUMBER_SHARE 0.2 /* of the height, above the curves */
#define TICK_ROOM_PX 80
#define ROW_ROOM_PX  34

struct _SbStepPlot {
  GtkDrawingArea parent_instance;
  SbLog *log; /* owned */
  SbChannel channels[2];
  guint n_channels;
  double y_low, y_high;
  GArray *cuts;     /* double */
  GArray *has_step; /* gboolean */
  int held;         /* cut under the pointer while it is dragged; -1: none */
  double held_px;   /* where the dragging began */
};

G_DEFINE_FINAL_TYPE (SbStepPlot, sb_step_plot, GTK_TYPE_DRAWING_AREA)

enum { CUT_MOVED, CUT_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

static double
cut_at (const SbStepPlot *plot, guint index)
{
  return g_array_index (plot->cuts, double, index);
}

static SbAxisScale
time_scale (const SbStepPlot *plot, int width)
{
  const double *t = plot->log->channel[SB_CHANNEL_TIME];
  return (SbAxisScale){ t[0], t[plot->log->n_rows - 1], LEFT_PX, width - RIGHT_PX, FALSE };
}

static SbAxisScale
value_scale (const SbStepPlot *plot, int height)
{
  return (SbAxisScale){ plot->y_low, plot->y_high, height - BOTTOM_PX, TOP_PX, FALSE };
}

/* The command and the torque share an axis; a log without either shows what it has. */
static void
choose_channels (SbStepPlot *plot)
{
  static const SbChannel others[] = { SB_CHANNEL_VELOCITY, SB_CHANNEL_ANGLE };
  double *const *channel = plot->log->channel;
  if (channel[SB_CHANNEL_TORQUE] != NULL)
    plot->channels[plot->n_channels++] = SB_CHANNEL_TORQUE;
  if (channel[SB_CHANNEL_COMMAND] != NULL)
    plot->channels[plot->n_channels++] = SB_CHANNEL_COMMAND;
  for (gsize i = 0; plot->n_channels == 0 && i < G_N_ELEMENTS (others); i++)
    if (channel[others[i]] != NULL)
      plot->channels[plot->n_channels++] = others[i];
  double low = INFINITY, high = -INFINITY;
  for (guint c = 0; c < plot->n_channels; c++) {
    double lowest, highest;
    sb_extremes (channel[plot->channels[c]], 0, plot->log->n_rows, &lowest, &highest);
    low = fmin (low, lowest);
    high = fmax (high, highest);
  }
  double air = high > low ? AIR_SHARE * (high - low) : fmax (1, fabs (low));
  plot->y_low = low - air;
  plot->y_high = high + NUMBER_SHARE / AIR_SHARE * air;
}

/* One drawing of the plot. */
typedef struct {
  SbStepPlot *plot;
  cairo_t *cr;
  PangoLayout *text;
  int width, height;
  SbAxisScale x, y;
} Drawing;

static void
show_text (const Drawing *d, const char *text, double x, double y, double x_share, double y_share)
{
  int width, height;
  pango_layout_set_text (d->text, text, -1);
  pango_layout_get_pixel_size (d->text, &width, &height);
  cairo_move_to (d->cr, x - x_share * width, y - y_share * height);
  pango_cairo_show_layout (d->cr, d->text);
}

static void
draw_axes (const Drawing *d)
{
  double bottom = d->y.at_low, right = d->x.at_high;
  SbTicks along = sb_ticks_new (d->x.low, d->x.high, MAX (2, (d->width - LEFT_PX - RIGHT_PX) / TICK_ROOM_PX));
  SbTicks up = sb_ticks_new (d->y.low, d->y.high, MAX (2, (d->height - TOP_PX - BOTTOM_PX) / ROW_ROOM_PX));
  cairo_set_line_width (d->cr, 1);
  for (gint64 i = up.first; i <= up.last; i++) {
    double y = floor (sb_axis_scale_at (&d->y, sb_ticks_value (&up, i))) + 0.5;
    g_autofree char *label = sb_ticks_label (&up, i);
    cairo_set_source_rgb (d->cr, 0.89, 0.90, 0.92);
    cairo_move_to (d->cr, LEFT_PX, y);
    cairo_line_to (d->cr, right, y);
    cairo_stroke (d->cr);
    cairo_set_source_rgb (d->cr, 0.2, 0.22, 0.25);
    show_text (d, label, LEFT_PX - 6, y, 1, 0.5);
  }
  for (gint64 i = along.first; i <= along.last; i++) {
    double x = floor (sb_axis_scale_at (&d->x, sb_ticks_value (&along, i))) + 0.5;
    g_autofree char *label = sb_ticks_label (&along, i);
    cairo_move_to (d->cr, x, bottom);
    cairo_line_to (d->cr, x, bottom + 4);
    cairo_stroke (d->cr);
    show_text (d, label, x, bottom + 5, 0.5, 0);
  }
  cairo_rectangle (d->cr, LEFT_PX + 0.5, TOP_PX + 0.5, right - LEFT_PX - 1, bottom - TOP_PX - 1);
  cairo_stroke (d->cr);
  show_text (d, "Time of the log [s]", (LEFT_PX + right) / 2, d->height - 3, 0.5, 1);
}

static void
add_point (double x, double y, gboolean starts, gpointer user_data)
{
  const Drawing *d = user_data;
  if (starts)
    cairo_move_to (d->cr, sb_axis_scale_at (&d->x, x), sb_axis_scale_at (&d->y, y));
  else
    cairo_line_to (d->cr, sb_axis_scale_at (&d->x, x), sb_axis_scale_at (&d->y, y));
}

static void
set_colour (const Drawing *d, guint style)
{
  const SbColour *colour = &sb_style_get (style)->colour;
  cairo_set_source_rgb (d->cr, colour->red, colour->green, colour->blue);
}

/* Name and unit in the curve's colour, from the right; gives where the next one ends. */
static double
draw_name (const Drawing *d, SbChannel channel, double right)
{
  g_autofree char *name = g_strdup_printf ("%s [%s]", sb_channel_key (channel), sb_channel_unit (channel));
  int width;
  show_text (d, name, right, TOP_PX - 10, 1, 1);
  pango_layout_get_pixel_size (d->text, &width, NULL);
  return right - width - 14;
}

static void
draw_curves (Drawing *d)
{
  const SbLog *log = d->plot->log;
  SbColumns columns = { d->x.low, d->x.high, (gsize) MAX (1, d->width - LEFT_PX - RIGHT_PX) };
  double right = d->x.at_high;
  for (guint c = 0; c < d->plot->n_channels; c++) {
    SbChannel channel = d->plot->channels[c];
    SbCurve curve = { .n_points = log->n_rows, .x = log->channel[SB_CHANNEL_TIME], .y = log->channel[channel] };
    set_colour (d, channel == SB_CHANNEL_COMMAND ? 1 : 0);
    cairo_set_line_width (d->cr, channel == SB_CHANNEL_COMMAND ? 1.2 : 1.6);
    sb_reduce_curve (&curve, &columns, 0, add_point, d);
    cairo_stroke (d->cr);
    right = draw_name (d, channel, right);
  }
}

/* The number of each trial; a stretch without a step is veiled. */
static void
draw_stretches (const Drawing *d)
{
  guint number = 0;
  for (guint s = 0; s < d->plot->has_step->len; s++) {
    double from = s == 0 ? d->x.at_low : sb_axis_scale_at (&d->x, cut_at (d->plot, s - 1));
    double to = s == d->plot->cuts->len ? d->x.at_high : sb_axis_scale_at (&d->x, cut_at (d->plot, s));
    if (g_array_index (d->plot->has_step, gboolean, s)) {
      g_autofree char *label = g_strdup_printf ("%u", ++number);
      cairo_set_source_rgb (d->cr, 0.2, 0.22, 0.25);
      show_text (d, label, (from + to) / 2, TOP_PX + 4, 0.5, 0);
    } else {
      cairo_set_source_rgba (d->cr, 0.45, 0.48, 0.52, 0.22);
      cairo_rectangle (d->cr, from, TOP_PX + 1, to - from, d->y.at_low - TOP_PX - 2);
      cairo_fill (d->cr);
    }
  }
}

static void
draw_cuts (const Drawing *d)
{
  static const double dash[] = { 5, 3 };
  for (guint i = 0; i < d->plot->cuts->len; i++) {
    double x = floor (sb_axis_scale_at (&d->x, cut_at (d->plot, i))) + 0.5;
    gboolean held = d->plot->held == (int) i;
    cairo_set_source_rgb (d->cr, held ? 0.72 : 0.15, held ? 0.25 : 0.17, held ? 0.05 : 0.2);
    cairo_set_line_width (d->cr, held ? 2 : 1.4);
    cairo_set_dash (d->cr, dash, 2, 0);
    cairo_move_to (d->cr, x, TOP_PX);
    cairo_line_to (d->cr, x, d->y.at_low);
    cairo_stroke (d->cr);
    cairo_set_dash (d->cr, NULL, 0, 0);
    cairo_move_to (d->cr, x - 5, TOP_PX - 8);
    cairo_line_to (d->cr, x + 5, TOP_PX - 8);
    cairo_line_to (d->cr, x, TOP_PX);
    cairo_close_path (d->cr);
    cairo_fill (d->cr);
  }
}

static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  SbStepPlot *plot = SB_STEP_PLOT (area);
  g_autoptr (PangoLayout) text = gtk_widget_create_pango_layout (GTK_WIDGET (area), NULL);
  Drawing d = { plot, cr, text, width, height, time_scale (plot, width), value_scale (plot, height) };
  if (width <= LEFT_PX + RIGHT_PX || height <= TOP_PX + BOTTOM_PX)
    return;
  draw_axes (&d);
  draw_curves (&d);
  draw_stretches (&d);
  draw_cuts (&d);
}

/* -1: none. */
static int
cut_near (SbStepPlot *plot, double x_px)
{
  SbAxisScale scale = time_scale (plot, gtk_widget_get_width (GTK_WIDGET (plot)));
  int nearest = -1;
  double distance = NEAR_PX;
  for (guint i = 0; i < plot->cuts->len; i++) {
    double away = fabs (sb_axis_scale_at (&scale, cut_at (plot, i)) - x_px);
    if (away > distance)
      continue;
    nearest = (int) i;
    distance = away;
  }
  return nearest;
}

/* Within the log and between its neighbours. */
static double
time_at (SbStepPlot *plot, double x_px, int held)
{
  SbAxisScale scale = time_scale (plot, gtk_widget_get_width (GTK_WIDGET (plot)));
  double low = held > 0 ? cut_at (plot, (guint) held - 1) : scale.low;
  double high = held >= 0 && (guint) held + 1 < plot->cuts->len ? cut_at (plot, (guint) held + 1) : scale.high;
  double grain = (scale.high - scale.low) / 1000;
  return CLAMP (sb_axis_scale_value (&scale, x_px), fmin (low + grain, (low + high) / 2),
                fmax (high - grain, (low + high) / 2));
}

static void
on_drag_begin (GtkGestureDrag *drag, double x, double y, SbStepPlot *plot)
{
  plot->held = cut_near (plot, x);
  plot->held_px = x;
  if (plot->held < 0)
    gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
  gtk_widget_queue_draw (GTK_WIDGET (plot));
}

static void
on_drag (GtkGestureDrag *drag, double dx, double dy, SbStepPlot *plot)
{
  if (plot->held >= 0)
    g_signal_emit (plot, signals[CUT_MOVED], 0, (guint) plot->held, time_at (plot, plot->held_px + dx, plot->held),
                   FALSE);
}

static void
on_drag_end (GtkGestureDrag *drag, double dx, double dy, SbStepPlot *plot)
{
  int held = plot->held;
  plot->held = -1;
  if (held >= 0 && fabs (dx) > 0)
    g_signal_emit (plot, signals[CUT_MOVED], 0, (guint) held, time_at (plot, plot->held_px + dx, held), TRUE);
  gtk_widget_queue_draw (GTK_WIDGET (plot));
}

static void
on_pressed (GtkGestureClick *click, int n_press, double x, double y, SbStepPlot *plot)
{
  if (n_press == 2 && cut_near (plot, x) < 0)
    g_signal_emit (plot, signals[CUT_WANTED], 0, time_at (plot, x, -1));
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y, SbStepPlot *plot)
{
  gboolean near = plot->held >= 0 || cut_near (plot, x) >= 0;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (plot), near ? "col-resize" : NULL);
}

void
sb_step_plot_set (SbStepPlot *plot, const GArray *cuts, const GArray *has_step)
{
  g_array_set_size (plot->cuts, 0);
  g_array_append_vals (plot->cuts, cuts->data, cuts->len);
  g_array_set_size (plot->has_step, 0);
  g_array_append_vals (plot->has_step, has_step->data, has_step->len);
  if (plot->held >= (int) cuts->len) /* taken away by a key while the pointer held it */
    plot->held = -1;
  g_autofree char *what
      = g_strdup_printf ("The whole log over its time, with %u %s", cuts->len, cuts->len == 1 ? "cut" : "cuts");
  gtk_accessible_update_property (GTK_ACCESSIBLE (plot), GTK_ACCESSIBLE_PROPERTY_LABEL, what, -1);
  gtk_widget_queue_draw (GTK_WIDGET (plot));
}

static void
sb_step_plot_finalize (GObject *object)
{
  SbStepPlot *plot = SB_STEP_PLOT (object);
  sb_log_unref (plot->log);
  g_array_unref (plot->cuts);
  g_array_unref (plot->has_step);
  G_OBJECT_CLASS (sb_step_plot_parent_class)->finalize (object);
}

static void
sb_step_plot_class_init (SbStepPlotClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_step_plot_finalize;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
  signals[CUT_MOVED] = g_signal_new ("cut-moved", SB_TYPE_STEP_PLOT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                     G_TYPE_NONE, 3, G_TYPE_UINT, G_TYPE_DOUBLE, G_TYPE_BOOLEAN);
  signals[CUT_WANTED] = g_signal_new ("cut-wanted", SB_TYPE_STEP_PLOT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                      G_TYPE_NONE, 1, G_TYPE_DOUBLE);
}

static void
sb_step_plot_init (SbStepPlot *plot)
{
  plot->held = -1;
  plot->cuts = g_array_new (FALSE, FALSE, sizeof (double));
  plot->has_step = g_array_new (FALSE, FALSE, sizeof (gboolean));
  gtk_widget_add_css_class (GTK_WIDGET (plot), "paper");
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (plot), 720);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (plot), 260);
  gtk_widget_set_hexpand (GTK_WIDGET (plot), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (plot), TRUE);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (plot), draw, NULL, NULL);
  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), plot);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag), plot);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), plot);
  gtk_widget_add_controller (GTK_WIDGET (plot), GTK_EVENT_CONTROLLER (drag));
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), plot);
  gtk_widget_add_controller (GTK_WIDGET (plot), GTK_EVENT_CONTROLLER (click));
  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), plot);
  gtk_widget_add_controller (GTK_WIDGET (plot), motion);
}

GtkWidget *
sb_step_plot_new (SbLog *log)
{
  SbStepPlot *plot = g_object_new (SB_TYPE_STEP_PLOT, NULL);
  plot->log = sb_log_ref (log);
  choose_channels (plot);
  return GTK_WIDGET (plot);
}
