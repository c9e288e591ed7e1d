/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_clash.h"

#include "layout_words.h"

#include <string.h>

static void
add (GPtrArray *list, const char *member, char *value)
{
  g_ptr_array_add (list, g_strdup_printf ("%s %s", member, value));
  g_free (value);
}

static char *
word_of (SbWordKind kind, char sign)
{
  const char *word = sb_sign_word (kind, sign);
  return g_strdup (word != NULL ? word : "not known");
}

static char *
line_of (guint64 line)
{
  return line > 0 ? g_strdup_printf ("%" G_GUINT64_FORMAT, line) : g_strdup ("0 (none)");
}

static void
add_signs (GPtrArray *list, const SbDialectChoices *fixed, const SbLayout *layout)
{
  if (fixed->encoding != SB_AUTOMATIC && (layout == NULL || fixed->encoding != (int) layout->encoding))
    add (list, "encoding",
         g_strdup (sb_encoding_name (layout != NULL ? layout->encoding : (SbEncoding) fixed->encoding)));
  if (fixed->delimiter != '\0' && (layout == NULL || fixed->delimiter != layout->delimiter))
    add (list, "delimiter", word_of (SB_WORD_DELIMITER, layout != NULL ? layout->delimiter : fixed->delimiter));
  if (fixed->decimal != '\0' && (layout == NULL || fixed->decimal != layout->decimal))
    add (list, "decimal", word_of (SB_WORD_DECIMAL, layout != NULL ? layout->decimal : fixed->decimal));
  if (fixed->thousands != SB_AUTOMATIC && (layout == NULL || fixed->thousands != layout->thousands))
    add (list, "thousands", word_of (SB_WORD_THOUSANDS, layout != NULL ? layout->thousands : (char) fixed->thousands));
  if (fixed->quote != SB_AUTOMATIC && (layout == NULL || fixed->quote != layout->quote))
    add (list, "quote", word_of (SB_WORD_QUOTE, layout != NULL ? layout->quote : (char) fixed->quote));
}

static void
add_lines (GPtrArray *list, const SbDialectChoices *fixed, const SbLayout *layout)
{
  const char *prefix = fixed->comment_prefix;
  if (prefix != NULL && (layout == NULL || strcmp (prefix, layout->comment_prefix) != 0))
    add (list, "comment_prefix", g_strdup_printf ("'%s'", layout != NULL ? layout->comment_prefix : prefix));
  if (fixed->header_line != SB_AUTOMATIC && (layout == NULL || fixed->header_line != (gint64) layout->header_line))
    add (list, "header_line", line_of (layout != NULL ? layout->header_line : (guint64) fixed->header_line));
  if (fixed->units_line != SB_AUTOMATIC && (layout == NULL || fixed->units_line != (gint64) layout->units_line))
    add (list, "units_line", line_of (layout != NULL ? layout->units_line : (guint64) fixed->units_line));
  if (fixed->table != SB_AUTOMATIC && (layout == NULL || fixed->table != (int) layout->table))
    add (list, "table", line_of ((layout != NULL ? layout->table : (guint64) fixed->table) + 1));
}

/* What is fixed, or where `layout` is given what that is in the layout instead, where it is another. (transfer full) */
static char *
list_members (const SbDialectChoices *fixed, const SbLayout *layout)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (g_free);
  GString *text = g_string_new (NULL);
  add_signs (list, fixed, layout);
  add_lines (list, fixed, layout);
  for (guint i = 0; i < list->len; i++)
    g_string_append_printf (text, "%s%s",
                            i == 0               ? ""
                            : i + 1 == list->len ? " and "
                                                 : ", ",
                            (const char *) g_ptr_array_index (list, i));
  return g_string_free (text, FALSE);
}

char *
sb_layout_clash_fixed (const SbDialectChoices *fixed)
{
  return list_members (fixed, NULL);
}

char *
sb_layout_clash_text (const SbLayoutChoice *choice, const SbLayout *layout)
{
  if (!sb_layout_choice_fixes_dialect (choice) || !sb_layout_choice_is_for_columns (choice, layout)
      || sb_layout_choice_fits (choice, layout))
    return NULL;
  const char *name = choice->layout->name;
  g_autofree char *called = *name != '\0' ? g_strdup_printf (" '%s'", name) : g_strdup (" that was stated");
  g_autofree char *stated = sb_layout_clash_fixed (&choice->fixed), *found = list_members (&choice->fixed, layout);
  g_autofree char *place = layout->header_line > 0
                               ? g_strdup_printf ("the header is line %" G_GUINT64_FORMAT, layout->header_line)
                               : g_strdup_printf ("the rows begin in line %" G_GUINT64_FORMAT, layout->first_line);
  return g_strdup_printf ("passed over is the layout%s: it states %s, with which this log has no table of its columns; "
                          "found was %s (%s). Correct the layout, or leave out of it what differs between logs",
                          called, stated, found, place);
}
