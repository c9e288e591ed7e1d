/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table of words that is set in some markup. For results_markup.c, latex_table.c and
 * methods_table.c. */
#pragma once

#include <glib.h>

typedef struct {
  const GPtrArray *cells; /* char *, row by row, the first row the headings; need not be UTF-8 */
  guint n_columns, n_rows;
  gboolean has_verdict; /* the last column holds words */
  gboolean all_words;   /* every column does */
} SbMarkupTable;

const char *sb_markup_cell (const SbMarkupTable *table, guint row, guint column);
gboolean sb_markup_is_left (const SbMarkupTable *table, guint column); /* aligned so; else right */

/* What a character is written as; NULL: as it is. */
typedef const char *(*SbMarkupEscape) (gunichar character);

/* The same with no-break spaces where a line should not end: within a short bracket, as "(n = 8)" and "[12, 18]",
 * before that of a letter, as "p (Holm)", and before the mark of a doubt. (transfer full) */
char *sb_markup_keep_together (const char *words);

/* `words` need not be UTF-8. */
void sb_markup_append (GString *text, const char *words, SbMarkupEscape escape);

/* results_markup.c: a pipe table. */
void sb_markup_append_markdown (GString *text, const SbMarkupTable *table);
