/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measures table on the clipboard, in the words of `slewbench measure --format`. */
#pragma once

#include "analysis.h"

#include <gtk/gtk.h>

typedef enum {
  SB_TABLE_COPY_TEXT,
  SB_TABLE_COPY_CSV, /* every measure of every configuration, whatever is shown */
  SB_TABLE_COPY_MARKDOWN,
  SB_N_TABLE_COPIES,
} SbTableCopy;

const char *sb_table_copy_words (SbTableCopy kind); /* "Markdown" */

/* (transfer full) */
char *sb_table_copy_make (const SbAnalysis *analysis, SbTableCopy kind);

/* On the clipboard of the display that `widget` is on. */
void sb_table_copy (GtkWidget *widget, const SbAnalysis *analysis, SbTableCopy kind);
