/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_style.h"

#include <string.h>

static void
add_style_of_line (const SbLine *line, SbCells *cells, char delimiter, SbNumberStyle *style)
{
  sb_cells_split (cells, line->text, line->length, delimiter);
  for (guint i = 0; i < sb_cells_count (cells); i++) {
    gsize length;
    const char *text = sb_cells_get (cells, i, &length);
    sb_number_style_add (style, text, length, i);
  }
}

static void
add_style_of_samples (const SbFoundTable *found, SbNumberStyle *style)
{
  for (guint row = 0; row < found->rows->len; row++) {
    const GPtrArray *cells = g_ptr_array_index (found->rows, row);
    for (guint i = 0; i < cells->len; i++) {
      g_autofree char *text = g_strstrip (g_strdup (g_ptr_array_index (cells, i)));
      sb_number_style_add (style, text, strlen (text), i);
    }
  }
}

/* Signs that the first rows do not have and later ones may need. */
static gboolean
may_show_more (const char *text, gsize length, char delimiter, char decimal)
{
  const char *end = text + length;
  char other = decimal == ',' ? '.' : ',';
  /* Thin blanks and curved apostrophes begin with these two bytes. */
  if (decimal == '\0' || memchr (text, '\'', length) != NULL || memchr (text, '\xa0', length) != NULL
      || memchr (text, '\x92', length) != NULL || memmem (text, length, "\xe2\x80", 2) != NULL)
    return TRUE;
  if (memchr (text, other == delimiter ? '"' : other, length) != NULL)
    return TRUE;
  if (delimiter == ' ')
    return memchr (text, '"', length) != NULL;
  for (const char *p = text; (p = memchr (p, ' ', (gsize) (end - p))) != NULL; p++)
    if (p > text && p + 3 < end && g_ascii_isdigit (p[-1]) && g_ascii_isdigit (p[1]) && g_ascii_isdigit (p[3]))
      return TRUE;
  return FALSE;
}

/* Takes in the rows behind the samples, as far as they are there. */
static void
add_style_of_rest (const SbFileHead *head, const SbFoundTable *found, char quote, SbNumberStyle *style)
{
  if (found->table.first_line < head->first_line)
    return;
  guint first = (guint) (found->table.first_line - head->first_line) + found->rows->len;
  guint64 end = found->table.last_line > 0 ? found->table.last_line - head->first_line + 1 : head->lines->len;
  g_autoptr (SbCells) cells = sb_cells_new ();
  sb_cells_set_quote (cells, quote);
  for (guint i = first; i < MIN (end, head->lines->len); i++)
    add_style_of_line (&g_array_index (head->lines, SbLine, i), cells, found->delimiter, style);
}

void
sb_table_style_ask (SbLayout *layout, const SbNumberStyle *style, int open)
{
  guint column = style->example_column[open];
  if (column >= layout->columns->len)
    return;
  SbLayoutColumn *asked = sb_layout_column (layout, column);
  g_autofree char *example = sb_text_quote (style->example[open], strlen (style->example[open]));
  g_free (asked->question);
  asked->certainty = SB_CERTAINTY_MISSING;
  asked->question = g_strdup_printf ("%s may be a number with decimals or one in thousands", example);
}

int
sb_table_style_find (const SbFileHead *head, const SbFoundTable *found, SbLayout *layout, SbNumberStyle *style)
{
  const SbDialectChoices *fixed = head->fixed;
  add_style_of_samples (found, style);
  int open = sb_number_style_decide (style, layout->delimiter, &layout->decimal, &layout->thousands);
  if (layout->thousands == '\0'
      && may_show_more (head->text->str, head->text->len, layout->delimiter, layout->decimal)) {
    add_style_of_rest (head, found, layout->quote, style);
    open = sb_number_style_decide (style, layout->delimiter, &layout->decimal, &layout->thousands);
  }
  if (fixed != NULL && fixed->decimal != '\0')
    sb_number_style_fix (style, fixed->decimal, &layout->decimal, &layout->thousands);
  else if (fixed != NULL && (fixed->thousands == '.' || fixed->thousands == ','))
    sb_number_style_fix (style, fixed->thousands == ',' ? '.' : ',', &layout->decimal, &layout->thousands);
  layout->is_thousands_stated = fixed != NULL && fixed->thousands != SB_AUTOMATIC;
  if (layout->is_thousands_stated)
    layout->thousands = (char) fixed->thousands;
  gboolean settled = fixed != NULL && (fixed->decimal != '\0' || fixed->thousands != SB_AUTOMATIC);
  return settled ? -1 : open;
}
