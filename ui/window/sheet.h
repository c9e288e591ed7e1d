/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the windows over the main one have in common. */
#pragma once

#include <gtk/gtk.h>

/* Escape closes it, what is below it waits, and it goes with its parent. */
void sb_sheet_set_up (GtkWindow *sheet);

/* Gives it a header with a button to cancel and `accept`, which is made to stand out and is what Return does. */
void sb_sheet_set_buttons (GtkWindow *sheet, GtkWidget *accept);

/* The same for a sheet with nothing to cancel, as it only shows, or as what is chosen in it is taken at once. */
void sb_sheet_set_buttons_to_close (GtkWindow *sheet, GtkWidget *accept);

/* `field` with its name above it, for eyes and for assistive technology. */
GtkWidget *sb_sheet_field_new (const char *name, GtkWidget *field);

/* A button of a message dialog, named for assistive technology, which reads the dialog's own twice otherwise. */
GtkWidget *sb_dialog_add_answer (GtkWidget *dialog, const char *label, int answer);
