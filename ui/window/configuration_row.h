/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One configuration in the list: its curve sample, name, n, what sets it apart, whether it is drawn, its role, and its
 * trials when unfolded. Shows the document; every change goes back through edits.h. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_CONFIGURATION_ROW (sb_configuration_row_get_type ())
G_DECLARE_FINAL_TYPE (SbConfigurationRow, sb_configuration_row, SB, CONFIGURATION_ROW, GtkListBoxRow)

GtkWidget *sb_configuration_row_new (SbDocument *document, guint index);

/* Takes over what the document says now. */
void sb_configuration_row_update (SbConfigurationRow *row);

void sb_configuration_row_note_seen (SbConfigurationRow *row, GtkWidget *view); /* see seen_part.h */

void sb_configuration_row_rename (SbConfigurationRow *row);                  /* opens the name for writing */
void sb_configuration_row_show_trial (SbConfigurationRow *row, guint trial); /* unfolds, focuses the trial */

/* The path of the log that the focus is on, else of the first one with an open question about its columns, else of the
 * first; NULL: none. Borrowed. */
const char *sb_configuration_row_log (SbConfigurationRow *row);
