/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "curve_sample.h"

#include "style.h"
#include "tooltip.h"

#define MAX_DASHES 8

static void
draw_line (cairo_t *cr, guint style_index, int width, int height)
{
  const SbStyle *style = sb_style_get (style_index);
  double line_width = 2.5;
  double dash[MAX_DASHES];
  int n = MIN (style->n_dash, MAX_DASHES);
  for (int i = 0; i < n; i++)
    dash[i] = style->dash[i] * line_width;
  cairo_set_source_rgb (cr, style->colour.red, style->colour.green, style->colour.blue);
  cairo_set_line_width (cr, line_width);
  cairo_set_dash (cr, dash, n, 0);
  cairo_move_to (cr, 3, height / 2.0);
  cairo_line_to (cr, width - 3, height / 2.0);
  cairo_stroke (cr);
}

static void
draw_sample (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  draw_line (cr, GPOINTER_TO_UINT (data), width, height);
}

void
sb_curve_sample_snapshot (GtkSnapshot *snapshot, guint style, int x, int y)
{
  graphene_rect_t bounds
      = GRAPHENE_RECT_INIT ((float) x, (float) y, SB_CURVE_SAMPLE_WIDTH_PX, SB_CURVE_SAMPLE_HEIGHT_PX);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, x, y, SB_CURVE_SAMPLE_WIDTH_PX, SB_CURVE_SAMPLE_HEIGHT_PX);
  cairo_fill_preserve (cr);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.2);
  cairo_set_line_width (cr, 2); /* half of it is beyond the bounds */
  cairo_stroke (cr);
  cairo_translate (cr, x, y);
  draw_line (cr, style, SB_CURVE_SAMPLE_WIDTH_PX, SB_CURVE_SAMPLE_HEIGHT_PX);
  cairo_destroy (cr);
}

void
sb_curve_sample_set_style (GtkWidget *sample, guint style)
{
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (sample), draw_sample, GUINT_TO_POINTER (style), NULL);
}

GtkWidget *
sb_curve_sample_new (guint style)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), SB_CURVE_SAMPLE_WIDTH_PX);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), SB_CURVE_SAMPLE_HEIGHT_PX);
  gtk_widget_set_valign (area, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (area, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (area, "paper-chip");
  sb_curve_sample_set_style (area, style);
  return area;
}

typedef struct {
  SbStyleChosen chosen;
  gpointer user_data;
  GtkWidget *sample;
  gboolean filled; /* the popover has its buttons */
} StyleMenu;

static void
on_style_clicked (GtkButton *button, GtkWidget *menu_button)
{
  StyleMenu *menu = g_object_get_data (G_OBJECT (menu_button), "style-menu");
  guint style = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "style"));
  gtk_menu_button_popdown (GTK_MENU_BUTTON (menu_button));
  menu->chosen (style, menu->user_data);
}

/* Twelve buttons per configuration are made only when they are asked for. */
static void
fill_popover (GtkMenuButton *menu_button, gpointer user_data)
{
  StyleMenu *menu = g_object_get_data (G_OBJECT (menu_button), "style-menu");
  if (menu->filled)
    return;
  menu->filled = TRUE;
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 4);
  for (guint i = 0; i < SB_N_STYLES; i++) {
    GtkWidget *button = gtk_button_new ();
    const char *name = sb_style_get (i)->name;
    gtk_button_set_child (GTK_BUTTON (button), sb_curve_sample_new (i));
    gtk_widget_add_css_class (button, "flat");
    gtk_widget_set_tooltip_text (button, name);
    gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    g_object_set_data (G_OBJECT (button), "style", GUINT_TO_POINTER (i));
    g_signal_connect (button, "clicked", G_CALLBACK (on_style_clicked), menu_button);
    gtk_grid_attach (GTK_GRID (grid), button, (int) (i % 3), (int) (i / 3), 1, 1);
  }
  GtkWidget *popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), grid);
  gtk_menu_button_set_popover (menu_button, popover);
}

GtkWidget *
sb_style_button_new (SbStyleChosen chosen, gpointer user_data)
{
  GtkWidget *button = gtk_menu_button_new ();
  StyleMenu *menu = g_new0 (StyleMenu, 1);
  menu->chosen = chosen;
  menu->user_data = user_data;
  menu->sample = sb_curve_sample_new (0);
  gtk_menu_button_set_child (GTK_MENU_BUTTON (button), menu->sample);
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (button), fill_popover, NULL, NULL);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (button, "style-button");
  g_object_set_data_full (G_OBJECT (button), "style-menu", menu, g_free);
  return button;
}

void
sb_style_button_set (GtkWidget *button, guint style, const char *configuration_name)
{
  StyleMenu *menu = g_object_get_data (G_OBJECT (button), "style-menu");
  sb_curve_sample_set_style (menu->sample, style);
  g_autofree char *label
      = g_strdup_printf ("Colour and dash of %s: %s", configuration_name, sb_style_get (style)->name);
  sb_tooltip_set (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}
