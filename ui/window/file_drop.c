/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_drop.h"

typedef struct {
  SbWindow *window; /* borrowed, both: they hold this */
  GtkOverlay *overlay;
  GtkWidget *hint; /* NULL until something is held over it */
} FileDrop;

static void
show_hint (FileDrop *drop, gboolean shown)
{
  if (drop->hint == NULL && shown) {
    drop->hint = gtk_label_new ("Drop to add");
    gtk_widget_add_css_class (drop->hint, "drop-hint");
    gtk_widget_set_can_target (drop->hint, FALSE);
    gtk_overlay_add_overlay (drop->overlay, drop->hint);
  }
  if (drop->hint != NULL)
    gtk_widget_set_visible (drop->hint, shown);
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, FileDrop *drop)
{
  show_hint (drop, FALSE);
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  for (GSList *link = files; link != NULL; link = link->next)
    if (g_file_peek_path (link->data) != NULL)
      g_strv_builder_add (builder, g_file_peek_path (link->data));
  g_auto (GStrv) paths = g_strv_builder_end (builder);
  if (paths[0] == NULL) {
    sb_window_tell (drop->window, GTK_MESSAGE_ERROR, "What was dropped is not on this computer. Copy it here first.");
    return FALSE;
  }
  sb_window_open (drop->window, (const char *const *) paths);
  return TRUE;
}

static GdkDragAction
on_drop_enter (GtkDropTarget *target, double x, double y, FileDrop *drop)
{
  show_hint (drop, TRUE);
  return GDK_ACTION_COPY;
}

static void
on_drop_leave (GtkDropTarget *target, FileDrop *drop)
{
  show_hint (drop, FALSE);
}

void
sb_file_drop_accept (GtkOverlay *overlay, SbWindow *window)
{
  FileDrop *drop = g_new0 (FileDrop, 1);
  drop->window = window;
  drop->overlay = overlay;
  g_object_set_data_full (G_OBJECT (overlay), "file-drop", drop, g_free);
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (target), GTK_PHASE_CAPTURE);
  g_signal_connect (target, "drop", G_CALLBACK (on_drop), drop);
  g_signal_connect (target, "enter", G_CALLBACK (on_drop_enter), drop);
  g_signal_connect (target, "leave", G_CALLBACK (on_drop_leave), drop);
  gtk_widget_add_controller (GTK_WIDGET (overlay), GTK_EVENT_CONTROLLER (target));
}
