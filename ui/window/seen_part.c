/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "seen_part.h"

#define BRINGING_FRAMES 3  /* a part that has come just now has its place by then */
#define EDGE_PX         32 /* shadows and rings of focus reach over the edge of a widget */

gboolean
sb_seen_part_note (GtkWidget *part, GtkWidget *view)
{
  graphene_rect_t bounds;
  gboolean seen = !gtk_widget_compute_bounds (part, view, &bounds)
                  || (bounds.origin.y + bounds.size.height > -EDGE_PX
                      && bounds.origin.y < (float) (gtk_widget_get_height (view) + EDGE_PX));
  gtk_widget_set_opacity (part, seen ? 1 : 0); /* no node is made of what is wholly transparent */
  return seen;
}

static void
scroll_to (GtkWidget *part)
{
  GtkWidget *scrolled = gtk_widget_get_ancestor (part, GTK_TYPE_SCROLLED_WINDOW);
  graphene_rect_t bounds;
  if (scrolled == NULL || !gtk_widget_compute_bounds (part, scrolled, &bounds))
    return;
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled));
  double top = (double) bounds.origin.y, bottom = top + (double) bounds.size.height;
  double beyond = top < 0 ? top : MAX (bottom - gtk_widget_get_height (scrolled), 0);
  gtk_adjustment_set_value (down, gtk_adjustment_get_value (down) + beyond);
}

static gboolean
on_frame (GtkWidget *part, GdkFrameClock *clock, gpointer user_data)
{
  guint *frames = user_data;
  scroll_to (part);
  return ++*frames < BRINGING_FRAMES ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

void
sb_seen_part_bring (GtkWidget *part)
{
  gtk_widget_add_tick_callback (part, on_frame, g_new0 (guint, 1), g_free);
}
