/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cells of the table of measures, row by row, the first row being its headings; and what stands below it. Shared by
 * the plain table and those in markup. */
#pragma once

#include "analysis.h"

/* char *, UTF-8. n_columns is 1 when there is no configuration with a usable trial. (transfer full) */
GPtrArray *sb_results_grid (const SbAnalysis *analysis, guint *n_columns);

/* Sentences, a line each. (transfer full) */
char *sb_results_grid_legend (const SbAnalysis *analysis);
