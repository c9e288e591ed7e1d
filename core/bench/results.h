/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results as text: the JSON of `measure --json`, tables, the methods text. Same analysis, same bytes. */
#pragma once

#include "analysis.h"

/* The contract of docs/results-json.md. (transfer full) */
char *sb_results_json (const SbAnalysis *analysis);

/* A measure per row, a column per configuration (mean ± s), then difference, interval, verdict. (transfer full) */
char *sb_results_table_text (const SbAnalysis *analysis);

/* The same in CSV (RFC 4180), in display units named in the first columns, a row per measure and configuration.
 * (transfer full) */
char *sb_results_table_csv (const SbAnalysis *analysis);

/* How the figures of one measure were come by: definition, formula, limits and source once; then for each configuration and
 * trial the value, window, points, intermediate figures and doubts. (transfer full) */
char *sb_results_explain (const SbAnalysis *analysis, SbMeasureId id);

/* Says what was done, for pasting beside a chart: paragraphs, and the configurations as a table in Markdown. (transfer
 * full) */
char *sb_results_methods_text (const SbAnalysis *analysis);

/* The paragraphs alone, with an empty line between them. (transfer full) */
char *sb_results_methods_paragraphs (const SbAnalysis *analysis);
