/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_copy.h"

#include "results.h"
#include "results_markup.h"

const char *
sb_table_copy_words (SbTableCopy kind)
{
  static const char *const words[SB_N_TABLE_COPIES] = {
    [SB_TABLE_COPY_TEXT] = "Text",
    [SB_TABLE_COPY_CSV] = "CSV",
    [SB_TABLE_COPY_MARKDOWN] = "Markdown",
  };
  return words[kind];
}

char *
sb_table_copy_make (const SbAnalysis *analysis, SbTableCopy kind)
{
  switch (kind) {
  case SB_TABLE_COPY_CSV:
    return sb_results_table_csv (analysis);
  case SB_TABLE_COPY_MARKDOWN:
    return sb_results_table_markup (analysis, SB_MARKUP_MARKDOWN);
  case SB_TABLE_COPY_TEXT:
  case SB_N_TABLE_COPIES:
    break;
  }
  return sb_results_table_text (analysis);
}

void
sb_table_copy (GtkWidget *widget, const SbAnalysis *analysis, SbTableCopy kind)
{
  g_autofree char *text = sb_table_copy_make (analysis, kind);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}
