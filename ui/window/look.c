/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "look.h"

#include "window_resources.h"

#include <gtk/gtk.h>

/* The keys go to the button within a choice, which the toolkit leaves without a name: it is told by that of the choice.
 */
static gboolean
on_mapped (GSignalInvocationHint *hint, guint n_values, const GValue *values, gpointer user_data)
{
  GtkWidget *widget = g_value_get_object (values);
  GtkWidget *button = GTK_IS_DROP_DOWN (widget) ? gtk_widget_get_first_child (widget) : NULL;
  if (button != NULL)
    gtk_accessible_update_relation (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_RELATION_LABELLED_BY, widget, NULL, -1);
  return TRUE;
}

static void
name_buttons_of_choices (void)
{
  gpointer class = g_type_class_ref (GTK_TYPE_WIDGET); /* its signals are there from now on */
  g_signal_add_emission_hook (g_signal_lookup ("map", GTK_TYPE_WIDGET), 0, on_mapped, NULL, NULL);
  g_type_class_unref (class);
}

void
sb_look_install (void)
{
  name_buttons_of_choices ();
  GdkDisplay *display = gdk_display_get_default ();
  /* Named here so that the linker keeps the resources of a static library. */
  g_resources_register (window_resources_get_resource ());
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (provider, "/org/slewbench/Slewbench/slewbench.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_icon_theme_add_resource_path (gtk_icon_theme_get_for_display (display), "/org/slewbench/Slewbench/icons");
}
