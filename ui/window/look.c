/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "look.h"

#include "window_resources.h"

#include <gtk/gtk.h>

void
sb_look_install (void)
{
  GdkDisplay *display = gdk_display_get_default ();
  /* Named here so that the linker keeps the resources of a static library. */
  g_resources_register (window_resources_get_resource ());
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (provider, "/org/slewbench/Slewbench/slewbench.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_icon_theme_add_resource_path (gtk_icon_theme_get_for_display (display), "/org/slewbench/Slewbench/icons");
}
