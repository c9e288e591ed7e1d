/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Sets the tooltip of `widget` to `text` (NULL: none), to be shown when it is asked for: for each text that GTK is told
 * of, it asks the display server where the pointer is and waits for the answer, and lists of hundreds of rows are
 * brought up to date at every choice. It is the widget's accessible description, too. A widget takes its tooltips from
 * here or from GTK, not from both. */
void sb_tooltip_set (GtkWidget *widget, const char *text);

G_END_DECLS
