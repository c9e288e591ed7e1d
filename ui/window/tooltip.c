/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tooltip.h"

void
sb_tooltip_set (GtkWidget *widget, const char *text)
{
  if (g_strcmp0 (gtk_widget_get_tooltip_text (widget), text) != 0)
    gtk_widget_set_tooltip_text (widget, text);
}
