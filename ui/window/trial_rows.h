/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trials of one configuration: an "included" check each, and what is wrong with the log. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_TRIAL_ROWS (sb_trial_rows_get_type ())
G_DECLARE_FINAL_TYPE (SbTrialRows, sb_trial_rows, SB, TRIAL_ROWS, GtkBox)

GtkWidget *sb_trial_rows_new (SbDocument *document, guint configuration);
void sb_trial_rows_update (SbTrialRows *rows);
void sb_trial_rows_note_seen (SbTrialRows *rows, GtkWidget *view); /* see seen_part.h */
void sb_trial_rows_focus (SbTrialRows *rows, guint trial);
int sb_trial_rows_focused (SbTrialRows *rows); /* the trial that has the focus; -1: none */
