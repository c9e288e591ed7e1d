/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "welcome_page.h"

#include "style.h"

#include <math.h>

#define SKETCH_WIDTH  260
#define SKETCH_HEIGHT 120

/* A step response of second order with the damping ratio `zeta`, t in natural radians. */
static double
step_response (double t, double zeta)
{
  double damped = sqrt (1 - zeta * zeta);
  return 1 - exp (-zeta * t) * (cos (damped * t) + zeta / damped * sin (damped * t));
}

static void
trace (cairo_t *cr, double zeta, double scale, int width, int height)
{
  for (int x = 0; x <= width - 24; x++) {
    double y = step_response (x * 16.0 / width, zeta);
    cairo_line_to (cr, 12 + x, height - 16 - y * scale * (height - 48));
  }
}

static void
draw_sketch (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  static const struct {
    guint style;
    double zeta;
  } curves[] = { { 0, 0.28 }, { 1, 0.75 } };
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.25);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, 12.5, 10);
  cairo_line_to (cr, 12.5, height - 15.5);
  cairo_line_to (cr, width - 12, height - 15.5);
  cairo_stroke (cr);
  for (guint i = 0; i < G_N_ELEMENTS (curves); i++) {
    SbColour colour = sb_style_get (curves[i].style)->colour;
    cairo_set_source_rgba (cr, colour.red, colour.green, colour.blue, 0.16);
    cairo_set_line_width (cr, 9);
    trace (cr, curves[i].zeta, 0.75, width, height);
    cairo_stroke (cr);
    cairo_set_source_rgb (cr, colour.red, colour.green, colour.blue);
    cairo_set_line_width (cr, 2);
    trace (cr, curves[i].zeta, 0.75, width, height);
    cairo_stroke (cr);
  }
}

static GtkWidget *
make_sketch (void)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), SKETCH_WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), SKETCH_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_sketch, NULL, NULL);
  gtk_widget_set_halign (area, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (area, "paper");
  return area;
}

/* Lines are broken in the text: a label that wraps is laid out many times before the first frame. */
static GtkWidget *
make_text (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static GtkWidget *
make_button (const char *label, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_add_css_class (button, "begin");
  return button;
}

GtkWidget *
sb_welcome_page_new (gboolean with_demo)
{
  GtkWidget *zone = gtk_box_new (GTK_ORIENTATION_VERTICAL, 14);
  gtk_widget_add_css_class (zone, "welcome-zone");
  gtk_widget_set_halign (zone, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (zone, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (zone), make_sketch ());
  gtk_box_append (GTK_BOX (zone), make_text ("Drop logged repeats here", "welcome-title"));
  gtk_box_append (GTK_BOX (zone),
                  make_text ("Log files together become one configuration. A folder of logs becomes\n"
                             "a configuration of its own; a folder of such folders, one for each of them.",
                             "welcome-text"));
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  gtk_widget_set_halign (buttons, GTK_ALIGN_CENTER);
  GtkWidget *open = make_button ("Open…", "win.open");
  gtk_widget_add_css_class (open, "suggested-action");
  gtk_box_append (GTK_BOX (buttons), open);
  gtk_box_append (GTK_BOX (buttons), make_button ("Open a folder…", "win.open-folder"));
  if (with_demo)
    gtk_box_append (GTK_BOX (buttons), make_button ("Open the demo bench", "win.open-demo"));
  gtk_box_append (GTK_BOX (zone), buttons);
  gtk_box_append (GTK_BOX (zone),
                  make_text ("A steering motor can break a wrist. Hands clear of the rim during step tests,\n"
                             "an emergency stop within reach, power off before touching, start at low torque.",
                             "caution"));
  return zone;
}
