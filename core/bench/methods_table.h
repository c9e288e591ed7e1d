/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The configurations as a table: what was tested, how often, what was left out and why. Beside the paragraphs of
 * methods_text.c. */
#pragma once

#include "analysis.h"

/* char *, row by row, the first row the headings; need not be UTF-8. (transfer full) */
GPtrArray *sb_methods_cells (const SbAnalysis *analysis, guint *n_columns);

/* The same as a pipe table of Markdown. (transfer full) */
char *sb_methods_table_markdown (const SbAnalysis *analysis);
