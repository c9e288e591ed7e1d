/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asks what a report is to be, then where it goes, and has it written.
 *
 * Signal: "told" (gboolean well, const char *what) with the outcome, for the window to show. */
#pragma once

#include "chart_wanted.h"
#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_REPORT_SHEET (sb_report_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbReportSheet, sb_report_sheet, SB, REPORT_SHEET, GtkWindow)

GtkWidget *sb_report_sheet_new (GtkWindow *parent, SbDocument *document, SbChartWanted wanted, gpointer user_data);
