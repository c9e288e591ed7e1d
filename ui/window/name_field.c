/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "name_field.h"

#include "tooltip.h"

typedef struct {
  SbNamed named;
  gpointer user_data;
  GtkWidget *stack, *label, *entry, *back_to;
  gboolean ending; /* leaving the entry takes its focus, which would end it again */
} NameField;

static NameField *
field_of (GtkWidget *stack)
{
  return g_object_get_data (G_OBJECT (stack), "name-field");
}

static void
end (NameField *field, gboolean take)
{
  if (field->ending || !g_str_equal (gtk_stack_get_visible_child_name (GTK_STACK (field->stack)), "entry"))
    return;
  field->ending = TRUE;
  gtk_stack_set_visible_child_name (GTK_STACK (field->stack), "label");
  field->ending = FALSE;
  if (take)
    field->named (gtk_editable_get_text (GTK_EDITABLE (field->entry)), field->user_data);
}

static void
on_activate (GtkEntry *entry, NameField *field)
{
  end (field, TRUE);
  gtk_widget_grab_focus (field->back_to);
}

static void
on_focus_out (GtkEventControllerFocus *controller, NameField *field)
{
  end (field, TRUE);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, NameField *field)
{
  if (key != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  end (field, FALSE);
  gtk_widget_grab_focus (field->back_to);
  return GDK_EVENT_STOP;
}

void
sb_name_field_edit (GtkWidget *stack)
{
  NameField *field = field_of (stack);
  gtk_editable_set_text (GTK_EDITABLE (field->entry), gtk_label_get_text (GTK_LABEL (field->label)));
  gtk_stack_set_visible_child_name (GTK_STACK (field->stack), "entry");
  gtk_widget_grab_focus (field->entry);
  gtk_editable_select_region (GTK_EDITABLE (field->entry), 0, -1);
}

void
sb_name_field_set (GtkWidget *stack, const char *name)
{
  NameField *field = field_of (stack);
  gtk_label_set_text (GTK_LABEL (field->label), name);
  sb_tooltip_set (field->label, name);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, NameField *field)
{
  if (n_press == 2)
    sb_name_field_edit (field->stack);
}

static void
make_label (NameField *field)
{
  field->label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (field->label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (field->label), PANGO_ELLIPSIZE_END);
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), field);
  gtk_widget_add_controller (field->label, GTK_EVENT_CONTROLLER (click));
}

static void
make_entry (NameField *field, const char *what)
{
  field->entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (field->entry), 6);
  gtk_accessible_update_property (GTK_ACCESSIBLE (field->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, what, -1);
  g_signal_connect (field->entry, "activate", G_CALLBACK (on_activate), field);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (on_focus_out), field);
  gtk_widget_add_controller (field->entry, focus);
  GtkEventController *key = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), field);
  gtk_widget_add_controller (field->entry, key);
}

GtkWidget *
sb_name_field_new (const char *what, GtkWidget *back_to, SbNamed named, gpointer user_data)
{
  NameField *field = g_new0 (NameField, 1);
  field->back_to = back_to;
  field->named = named;
  field->user_data = user_data;
  field->stack = gtk_stack_new ();
  gtk_stack_set_hhomogeneous (GTK_STACK (field->stack), FALSE);
  make_label (field);
  make_entry (field, what);
  gtk_stack_add_named (GTK_STACK (field->stack), field->label, "label");
  gtk_stack_add_named (GTK_STACK (field->stack), field->entry, "entry");
  g_object_set_data_full (G_OBJECT (field->stack), "name-field", field, g_free);
  return field->stack;
}
