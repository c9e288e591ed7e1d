/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet that a report is set on: where the next line goes, and what happens at the end of a page. Lengths in pt.
 * For pdf_pages.c and pdf_table.c. */
#pragma once

#include "report_document.h"

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

typedef struct {
  cairo_surface_t *surface;
  cairo_t *cr;
  PangoLayout *text;
  const char *title; /* on every page's foot */
  double left, right, top, bottom;
  double y;          /* where the next line begins */
  int page, n_pages; /* n_pages 0: not known yet */
} SbPdfPaper;

typedef struct {
  double size_pt;
  gboolean bold, code;
  SbColour colour;
} SbPdfFont;

#define SB_PDF_INK   ((SbColour){ 0.11, 0.12, 0.14 })
#define SB_PDF_FAINT ((SbColour){ 0.36, 0.38, 0.41 })

void sb_pdf_set_font (SbPdfPaper *paper, const SbPdfFont *font);

/* A new page when less than `height` is left on this one; TRUE when one was begun. */
gboolean sb_pdf_need (SbPdfPaper *paper, double height);

/* Ends the page with its foot. */
void sb_pdf_end_page (SbPdfPaper *paper);

/* pdf_table.c: sets the table from paper->y on, its heading anew on every page. */
void sb_pdf_table (SbPdfPaper *paper, const SbReportTable *table);
