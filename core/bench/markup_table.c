/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "markup_table.h"

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
