/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be stated of a column besides its role and unit, a name and an entry each: the value that its unit wants,
 * the volts at no torque, after how much an angle begins again, a factor. Those that the column does not take are
 * hidden. */
#pragma once

#include "import_draft.h"

#include <gtk/gtk.h>

typedef struct SbLayoutRowValues SbLayoutRowValues;

/* The person wrote into an entry; the draft has what was written, or that it is wrong. */
typedef void (*SbLayoutRowValuesChanged) (gpointer user_data);

/* `draft` must outlive them. */
SbLayoutRowValues *
sb_layout_row_values_new (SbImportDraft *draft, guint column, SbLayoutRowValuesChanged changed, gpointer user_data);
void sb_layout_row_values_free (SbLayoutRowValues *values); /* the widget goes with its parent */

GtkWidget *sb_layout_row_values_widget (const SbLayoutRowValues *values);

/* The draft as it is; what is wrong with an entry is noted in it. */
void sb_layout_row_values_show (SbLayoutRowValues *values);

/* "'2,5x' is no number": what is wrong with what was written into one of them; NULL when nothing is. (transfer full) */
char *sb_layout_row_values_wrong (const SbLayoutRowValues *values);

/* "Unit of Torque", for who cannot see where a widget stands. */
void sb_layout_row_name_accessibly (GtkWidget *widget, const char *what, const char *column);
