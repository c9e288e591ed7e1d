/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A name that is read most of the time and written at times: a label that becomes an entry, also when it is clicked
 * twice. Return, or going elsewhere, takes what was written; Escape leaves the name as it was. */
#pragma once

#include <gtk/gtk.h>

typedef void (*SbNamed) (const char *name, gpointer user_data);

/* `what` tells what is named. Return and Escape give the keys to `back_to`, which outlives the field. `named` gets what
 * was written, whatever it is. */
GtkWidget *sb_name_field_new (const char *what, GtkWidget *back_to, SbNamed named, gpointer user_data);

void sb_name_field_edit (GtkWidget *field);
void sb_name_field_set (GtkWidget *field, const char *name);
