/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet.h"

void
sb_sheet_set_up (GtkWindow *sheet)
{
  gtk_window_set_modal (sheet, TRUE);
  gtk_window_set_destroy_with_parent (sheet, TRUE);
  GtkEventController *keys = gtk_shortcut_controller_new ();
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0), gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (GTK_WIDGET (sheet), keys);
}

static void
set_buttons (GtkWindow *sheet, const char *leave_name, GtkWidget *accept)
{
  GtkWidget *header = gtk_header_bar_new (), *leave = gtk_button_new_with_label (leave_name);
  gtk_header_bar_set_show_title_buttons (GTK_HEADER_BAR (header), FALSE);
  g_signal_connect_swapped (leave, "clicked", G_CALLBACK (gtk_window_close), sheet);
  gtk_widget_add_css_class (accept, "suggested-action");
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), leave);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), accept);
  gtk_window_set_titlebar (sheet, header);
  gtk_window_set_default_widget (sheet, accept);
}

void
sb_sheet_set_buttons (GtkWindow *sheet, GtkWidget *accept)
{
  set_buttons (sheet, "Cancel", accept);
}

void
sb_sheet_set_buttons_to_close (GtkWindow *sheet, GtkWidget *accept)
{
  set_buttons (sheet, "Close", accept);
}

GtkWidget *
sb_sheet_field_new (const char *name, GtkWidget *field)
{
  GtkWidget *label = gtk_label_new (name), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "field-name");
  gtk_accessible_update_property (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), field);
  return box;
}

GtkWidget *
sb_dialog_add_answer (GtkWidget *dialog, const char *label, int answer)
{
  GtkWidget *button = gtk_dialog_add_button (GTK_DIALOG (dialog), label, answer);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return button;
}
