/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A field for a plain number, with a point or a comma. */
#pragma once

#include <gtk/gtk.h>

/* Return in it is the default button of its window. (transfer floating) */
GtkWidget *sb_number_entry_new (void);
void sb_number_entry_set (GtkWidget *entry, double number);

/* NaN when it is none. */
double sb_number_entry_get (GtkWidget *entry);
gboolean sb_number_entry_is_empty (GtkWidget *entry);
