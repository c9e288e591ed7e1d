/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "menu_keys.h"

static void
let_go (gpointer data)
{
  g_autoptr (GtkWindow) window = data;
  gtk_window_set_focus (window, NULL);
}

/* Later, for the menu closes after its item has acted, and takes the keys then. */
void
sb_menu_let_keys_go (GtkWidget *row)
{
  GtkRoot *root = gtk_widget_get_root (row);
  if (GTK_IS_WINDOW (root))
    g_idle_add_once (let_go, g_object_ref (root));
}
