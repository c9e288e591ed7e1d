/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The import sheet: how a file is read, to be looked at and changed - its first lines, its dialect, and for each column
 * what it is, in which unit, its data and their range. What is chosen shows at once; Apply makes it one step of the
 * document.
 *
 * Signal "told" (gboolean well, const char *what): what became of remembering, for the person. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_IMPORT_SHEET (sb_import_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbImportSheet, sb_import_sheet, SB, IMPORT_SHEET, GtkWindow)

/* For the log at `path`, which is or is to be one of the document's. */
GtkWidget *sb_import_sheet_new (GtkWindow *parent, SbDocument *document, const char *path);
