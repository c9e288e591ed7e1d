/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "one_tab_stop.h"

static void
let_rows_focus (GtkListBox *list_box, GtkWidget *except, gboolean let)
{
  for (GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (list_box)); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    if (row != except)
      gtk_widget_set_can_focus (row, let);
}

static gboolean
on_left (gpointer list_box)
{
  let_rows_focus (list_box, NULL, TRUE);
  return G_SOURCE_REMOVE;
}

/* The list looks for the next row that can have the focus. There is none until the key has been dealt with, and the
 * focus moves on out of the list. */
static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, GtkListBox *list_box)
{
  GtkWidget *focused = gtk_widget_get_focus_child (GTK_WIDGET (list_box));
  if (focused == NULL || (key != GDK_KEY_Tab && key != GDK_KEY_KP_Tab && key != GDK_KEY_ISO_Left_Tab))
    return GDK_EVENT_PROPAGATE;
  let_rows_focus (list_box, focused, FALSE);
  g_idle_add_full (G_PRIORITY_HIGH, on_left, g_object_ref (list_box), g_object_unref);
  return GDK_EVENT_PROPAGATE;
}

void
sb_one_tab_stop (GtkListBox *list_box)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), list_box);
  gtk_widget_add_controller (GTK_WIDGET (list_box), keys);
}
