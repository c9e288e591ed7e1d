/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "menu_keys.h"

/* The menu closes after its item has acted, and at the end of the next frame the toolkit gives the keys of what was
 * hidden to what it hung on: to the closed menu itself where they come out of a submenu. */
#define FRAMES 2

static gboolean
let_go (GtkWidget *window, GdkFrameClock *clock, gpointer data)
{
  guint *n_frames = data;
  if (++*n_frames < FRAMES)
    return G_SOURCE_CONTINUE;
  gtk_window_set_focus (GTK_WINDOW (window), NULL);
  return G_SOURCE_REMOVE;
}

void
sb_menu_let_keys_go (GtkWidget *row)
{
  GtkRoot *root = gtk_widget_get_root (row);
  if (GTK_IS_WINDOW (root))
    gtk_widget_add_tick_callback (GTK_WIDGET (root), let_go, g_new0 (guint, 1), g_free);
}

/* First the button has its place, where a page was turned to show it; then what it is in scrolls to it. */
static gboolean
open_in_view (GtkWidget *button, GdkFrameClock *clock, gpointer data)
{
  guint *n_frames = data;
  if (++*n_frames == FRAMES)
    gtk_widget_grab_focus (button);
  if (*n_frames < 2 * FRAMES)
    return G_SOURCE_CONTINUE;
  gtk_menu_button_popup (GTK_MENU_BUTTON (button));
  return G_SOURCE_REMOVE;
}

void
sb_menu_open (GtkWidget *button)
{
  gtk_widget_add_tick_callback (button, open_in_view, g_new0 (guint, 1), g_free);
}
