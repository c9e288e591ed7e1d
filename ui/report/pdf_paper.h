/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet that a report is set on: where the next line goes, and what happens at the end of a page. Lengths in pt.
 * For pdf_pages.c, pdf_table.c and pdf_room.c. */
#pragma once

#include "report_document.h"

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

typedef struct {
  cairo_surface_t *surface;
  cairo_t *cr;
  PangoLayout *text;
  const char *title; /* on the foot of every page but the first */
  double left, right, top, bottom;
  double y;           /* where the next line begins */
  int page, n_pages;  /* n_pages 0: they are being counted, and nothing is painted */
  GHashTable *tables; /* SbReportTable -> its widths and heights, as pdf_table.c keeps them */
  GHashTable *lines;  /* text, with all that its lines hang on, -> their number */
} SbPdfPaper;

typedef struct {
  double size_pt;
  gboolean bold, code;
  SbColour colour;
} SbPdfFont;

#define SB_PDF_INK   ((SbColour){ 0.11, 0.12, 0.14 })
#define SB_PDF_FAINT ((SbColour){ 0.36, 0.38, 0.41 })

#define SB_PDF_BODY          ((SbPdfFont){ 9.5, FALSE, FALSE, SB_PDF_INK })
#define SB_PDF_LEADING       1.35
#define SB_PDF_INDENT        10.0 /* of a list */
#define SB_PDF_HEADING_GAP   3.0  /* below a heading, and so on */
#define SB_PDF_PARAGRAPH_GAP 5.0
#define SB_PDF_TABLE_GAP     8.0

void sb_pdf_set_font (SbPdfPaper *paper, const SbPdfFont *font);

/* A new page when less than `height` is left on this one; TRUE when one was begun. */
gboolean sb_pdf_need (SbPdfPaper *paper, double height);

/* Ends the page with its foot. */
void sb_pdf_end_page (SbPdfPaper *paper);

/* How many lines the text takes, `indent` from the left. */
int sb_pdf_count_lines (SbPdfPaper *paper, const SbPdfFont *font, const char *text, double indent);

/* How many lines from `line` on must stand on one page, so that none stands alone at its foot or head. */
int sb_pdf_lines_together (int line, int n_lines);

/* pdf_table.c: sets the table from paper->y on, its heading anew on every page. */
void sb_pdf_table (SbPdfPaper *paper, const SbReportTable *table);

/* Height of the whole table, and of its heading with the first two rows. */
double sb_pdf_table_height (SbPdfPaper *paper, const SbReportTable *table, double *beginning);

/* pdf_room.c: what must stand on one page. `headings`: height of those right above block `i`, which go with it. */
double sb_pdf_together (SbPdfPaper *paper, const SbReportDocument *document, guint i, double headings);
SbPdfFont sb_pdf_heading_font (guint level);
double sb_pdf_heading_space (guint level); /* above it */
double sb_pdf_heading_height (SbPdfPaper *paper, const SbReportBlock *heading);
double sb_pdf_chart_height (const SbPdfPaper *paper, const SbChartModel *model);
