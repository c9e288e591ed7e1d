/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "markup_table.h"

#include <string.h>

#define NO_BREAK_SPACE "\u00a0"

/* Bytes of a bracket that is kept on one line. */
#define LONGEST_KEPT 24

const char *
sb_markup_cell (const SbMarkupTable *table, guint row, guint column)
{
  return g_ptr_array_index (table->cells, row * table->n_columns + column);
}

gboolean
sb_markup_is_left (const SbMarkupTable *table, guint column)
{
  return column == 0 || table->all_words || (table->has_verdict && column + 1 == table->n_columns);
}

/* How long a bracket is that begins here, both signs included; 0: there is none, or it is long enough to be broken. */
static gsize
short_bracket (const char *at)
{
  const char *end = *at == '(' ? strchr (at, ')') : *at == '[' ? strchr (at, ']') : NULL;
  return end != NULL && end - at < LONGEST_KEPT ? (gsize) (end - at) + 1 : 0;
}

char *
sb_markup_keep_together (const char *words)
{
  GString *kept = g_string_new (NULL);
  const char *bracket_end = words;
  for (const char *c = words; *c != '\0'; c++) {
    gsize length = short_bracket (c);
    bracket_end = length > 0 ? c + length : bracket_end;
    gboolean of_a_letter = c == words + 1 && c[1] == '('; /* "p (Holm)" */
    if (*c == ' ' && (c < bracket_end || of_a_letter || c[1] == '?'))
      g_string_append (kept, NO_BREAK_SPACE);
    else
      g_string_append_c (kept, *c);
  }
  return g_string_free (kept, FALSE);
}

void
sb_markup_append (GString *text, const char *words, SbMarkupEscape escape)
{
  g_autofree char *readable = g_utf8_make_valid (words, -1);
  for (const char *c = readable; *c != '\0'; c = g_utf8_next_char (c)) {
    const char *written = escape (g_utf8_get_char (c));
    if (written != NULL)
      g_string_append (text, written);
    else
      g_string_append_len (text, c, g_utf8_next_char (c) - c);
  }
}
