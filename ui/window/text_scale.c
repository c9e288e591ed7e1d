/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text_scale.h"

#define USUAL_DPI 96

int
sb_text_scale_px (GtkWidget *widget, int px)
{
  int dpi = 0; /* times 1024; -1: not known */
  g_object_get (gtk_widget_get_settings (widget), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? (int) ((double) px * MAX (1, dpi / 1024.0 / USUAL_DPI)) : px;
}
