/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of measures for pasting into a document: Markdown, HTML, LaTeX. The cells are those of the plain table:
 * rounded by their uncertainty (GUM 7.2.6), units beside the measures' names. */
#pragma once

#include "analysis.h"

typedef enum {
  SB_MARKUP_MARKDOWN, /* a pipe table, as CommonMark's dialects have it */
  SB_MARKUP_HTML,     /* a table element, to stand within a page */
  SB_MARKUP_LATEX,    /* a tabular that needs no package, in blocks of columns where a page is too narrow */
  SB_N_MARKUPS,
} SbMarkup;

const char *sb_markup_key (SbMarkup markup); /* "markdown", "html", "latex" */

/* (transfer full) */
char *sb_results_table_markup (const SbAnalysis *analysis, SbMarkup markup);
