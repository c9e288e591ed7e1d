/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table as a tabular of LaTeX that fits a page: one that is too wide is set in smaller type, in blocks of columns
 * under one another, each with the first column. For results_markup.c. */
#pragma once

#include <glib.h>

/* What a character is written as; NULL: as it is. */
typedef const char *(*SbMarkupEscape) (gunichar character);

const char *sb_latex_escape (gunichar character);

/* Of results_markup.c. `cell` need not be UTF-8. */
void sb_markup_append (GString *text, const char *cell, SbMarkupEscape escape);

/* `cells`: char *, row by row, the first row the headings. `has_verdict`: the last column holds words. */
void sb_latex_append_table (GString *text, const GPtrArray *cells, guint n_columns, gboolean has_verdict);
