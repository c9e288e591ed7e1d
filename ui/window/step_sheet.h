/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cutting one log into trials by hand: the whole log with a line for each cut, a field for each, and what every stretch
 * is as a trial. Nothing changes until it is applied; then it is one step of the history. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_STEP_SHEET (sb_step_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbStepSheet, sb_step_sheet, SB, STEP_SHEET, GtkWindow)

/* For the log `path` of the document, which has been read as `log`. */
GtkWidget *sb_step_sheet_new (GtkWindow *parent, SbDocument *document, const char *path, SbLog *log);
