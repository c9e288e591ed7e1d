/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report on paper: the same document as PDF, with page numbers, an outline of its headings and its proof in the
 * document information. Same document, same bytes; no time stamp. */
#pragma once

#include "report_document.h"

typedef enum {
  SB_PAPER_SIZE_A4,
  SB_PAPER_SIZE_LETTER,
  SB_N_PAPER_SIZES,
} SbPaperSize;

const char *sb_paper_size_key (SbPaperSize sheet); /* "a4", "letter" */
gboolean sb_paper_size_from_key (const char *key, SbPaperSize *sheet);

/* `proof` is a line of proof.h. Errors in SB_CHART_ERROR. (transfer full) */
GBytes *sb_pdf_pages (const SbReportDocument *document, SbPaperSize sheet, const char *proof, GError **error);
