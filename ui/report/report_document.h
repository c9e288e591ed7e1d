/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report as data: headings, paragraphs, lists, tables and the chart, in the order they are read. Built once from
 * results; html_page.h and pdf_pages.h set the same document for a screen and for paper. */
#pragma once

#include "chart_model.h"

typedef enum {
  SB_BLOCK_HEADING, /* `level` 2 or 3 */
  SB_BLOCK_CARE,    /* a caution, to stand out */
  SB_BLOCK_PARAGRAPH,
  SB_BLOCK_LIST,
  SB_BLOCK_TABLE,
  SB_BLOCK_CHART,
} SbReportBlockKind;

/* The first row is the heading, the first column heads its row. */
typedef struct {
  char *name; /* "Measures": for who does not see it */
  guint n_columns;
  GPtrArray *cells; /* char *, UTF-8, row by row */
  guint64 left;     /* a bit for each column of words; others are figures */
  guint64 code;     /* a bit for each column of digits that may be broken anywhere */
} SbReportTable;

typedef struct {
  SbReportBlockKind kind;
  guint level;
  char *lead;       /* stands out before the text; NULL: nothing does */
  char *text;       /* UTF-8; NULL for what has none */
  GPtrArray *items; /* char *, of a list */
  SbReportTable *table;
} SbReportBlock;

typedef struct {
  char *title;
  GPtrArray *blocks; /* SbReportBlock */
  SbChartModel *model;
} SbReportDocument;

/* Everything that a report tells of the analysis that `model` shows. (transfer full) */
SbReportDocument *sb_report_document_new (SbChartModel *model);
void sb_report_document_free (SbReportDocument *document);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbReportDocument, sb_report_document_free)

/* For building; texts are taken over. */
SbReportDocument *sb_report_document_begin (SbChartModel *model); /* empty, without a title */
SbReportBlock *sb_report_add (SbReportDocument *document, SbReportBlockKind kind, char *text);
void sb_report_add_heading (SbReportDocument *document, guint level, char *text);
SbReportBlock *sb_report_add_list (SbReportDocument *document); /* takes items with sb_report_list_add() */
void sb_report_list_add (SbReportBlock *list, char *text);
SbReportTable *sb_report_add_table (SbReportDocument *document, const char *name);

/* Cells of a table, row by row; the first row says how many columns there are. */
void sb_report_table_add (SbReportTable *table, char *cell);
void sb_report_table_end_heading (SbReportTable *table);
const char *sb_report_table_cell (const SbReportTable *table, guint row, guint column);
guint sb_report_table_rows (const SbReportTable *table);

/* How many of the configurations that are left stand side by side in the next table: as many as a page of A4 holds,
 * split as evenly as can be: five stand as three and two. */
guint sb_report_next_columns (guint n_left);
