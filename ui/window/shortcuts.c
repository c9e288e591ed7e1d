/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shortcuts.h"

void
sb_shortcuts_present (GtkWindow *parent)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/org/slewbench/Slewbench/shortcuts.ui");
  GtkWindow *shortcuts = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));
  gtk_window_set_transient_for (shortcuts, parent);
  gtk_window_present (shortcuts);
}
