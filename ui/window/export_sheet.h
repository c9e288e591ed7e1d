/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asks for format and size of a chart, then for the file, and writes it in a worker.
 *
 * Signal: "told" (gboolean well, const char *what) with the outcome, for the window to show. */
#pragma once

#include "chart_wanted.h"
#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_EXPORT_SHEET (sb_export_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbExportSheet, sb_export_sheet, SB, EXPORT_SHEET, GtkWindow)

GtkWidget *sb_export_sheet_new (GtkWindow *parent, SbDocument *document, const char *suggested_name,
                                SbChartWanted wanted, gpointer user_data);
