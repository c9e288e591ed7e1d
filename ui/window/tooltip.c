/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tooltip.h"

#define TEXT_KEY "tooltip-shown-when-asked" /* empty: none; NULL: none was ever set */

static gboolean
on_query (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, gpointer user_data)
{
  gtk_tooltip_set_text (tooltip, g_object_get_data (G_OBJECT (widget), TEXT_KEY));
  return TRUE;
}

void
sb_tooltip_set (GtkWidget *widget, const char *text)
{
  const char *before = g_object_get_data (G_OBJECT (widget), TEXT_KEY), *now = text != NULL ? text : "";
  if (before == NULL)
    g_signal_connect (widget, "query-tooltip", G_CALLBACK (on_query), NULL);
  if (g_strcmp0 (before, now) == 0)
    return;
  g_object_set_data_full (G_OBJECT (widget), TEXT_KEY, g_strdup (now), g_free);
  gtk_widget_set_has_tooltip (widget, *now != '\0');
  /* As GTK does with a text that it is told of. */
  if (*now != '\0')
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, now, -1);
  else
    gtk_accessible_reset_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
}
