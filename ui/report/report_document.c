/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_document.h"

#define MOST_CONFIGURATIONS 4

static void
table_free (SbReportTable *table)
{
  g_free (table->name);
  g_ptr_array_unref (table->cells);
  g_free (table);
}

static void
block_free (gpointer data)
{
  SbReportBlock *block = data;
  g_free (block->lead);
  g_free (block->text);
  g_clear_pointer (&block->items, g_ptr_array_unref);
  g_clear_pointer (&block->table, table_free);
  g_free (block);
}

SbReportDocument *
sb_report_document_begin (SbChartModel *model)
{
  SbReportDocument *document = g_new0 (SbReportDocument, 1);
  document->model = sb_chart_model_ref (model);
  document->blocks = g_ptr_array_new_with_free_func (block_free);
  return document;
}

void
sb_report_document_free (SbReportDocument *document)
{
  if (document == NULL)
    return;
  g_free (document->title);
  g_ptr_array_unref (document->blocks);
  sb_chart_model_unref (document->model);
  g_free (document);
}

/* File names need not be UTF-8. */
static char *
readable (char *text)
{
  g_autofree char *owned = text;
  return owned != NULL ? g_utf8_make_valid (owned, -1) : NULL;
}

SbReportBlock *
sb_report_add (SbReportDocument *document, SbReportBlockKind kind, char *text)
{
  SbReportBlock *block = g_new0 (SbReportBlock, 1);
  block->kind = kind;
  block->text = readable (text);
  g_ptr_array_add (document->blocks, block);
  return block;
}

void
sb_report_add_heading (SbReportDocument *document, guint level, char *text)
{
  sb_report_add (document, SB_BLOCK_HEADING, text)->level = level;
}

SbReportBlock *
sb_report_add_list (SbReportDocument *document)
{
  SbReportBlock *block = sb_report_add (document, SB_BLOCK_LIST, NULL);
  block->items = g_ptr_array_new_with_free_func (g_free);
  return block;
}

void
sb_report_list_add (SbReportBlock *list, char *text)
{
  g_ptr_array_add (list->items, readable (text));
}

SbReportTable *
sb_report_add_table (SbReportDocument *document, const char *name)
{
  SbReportBlock *block = sb_report_add (document, SB_BLOCK_TABLE, NULL);
  block->table = g_new0 (SbReportTable, 1);
  block->table->name = g_strdup (name);
  block->table->left = 1;
  block->table->cells = g_ptr_array_new_with_free_func (g_free);
  return block->table;
}

void
sb_report_table_add (SbReportTable *table, char *cell)
{
  g_ptr_array_add (table->cells, readable (cell));
}

void
sb_report_table_end_heading (SbReportTable *table)
{
  table->n_columns = table->cells->len;
}

const char *
sb_report_table_cell (const SbReportTable *table, guint row, guint column)
{
  return g_ptr_array_index (table->cells, row * table->n_columns + column);
}

guint
sb_report_table_rows (const SbReportTable *table)
{
  return table->n_columns > 0 ? table->cells->len / table->n_columns : 0;
}

guint
sb_report_next_columns (guint n_left)
{
  guint n_tables = (n_left + MOST_CONFIGURATIONS - 1) / MOST_CONFIGURATIONS;
  return n_tables > 0 ? (n_left + n_tables - 1) / n_tables : 0;
}
