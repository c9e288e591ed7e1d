/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The button beside the measures whose popover says what the table shows, in which order and units, and copies it. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_TABLE_BUTTON (sb_table_button_get_type ())
G_DECLARE_FINAL_TYPE (SbTableButton, sb_table_button, SB, TABLE_BUTTON, GtkBox)

GtkWidget *sb_table_button_new (SbDocument *document);

void sb_table_button_open (SbTableButton *button);
