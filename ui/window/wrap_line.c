/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wrap_line.h"

GtkWidget *
sb_wrap_line_new (int spacing_px)
{
  GtkWidget *line = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (line), (guint) spacing_px);
  return line;
}

void
sb_wrap_line_append (GtkWidget *line, GtkWidget *widget)
{
  gtk_grid_attach_next_to (GTK_GRID (line), widget, gtk_widget_get_last_child (line), GTK_POS_RIGHT, 1, 1);
}
