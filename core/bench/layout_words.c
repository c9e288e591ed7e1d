/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_words.h"

#include <string.h>

static const struct {
  SbWordKind kind;
  char sign;
  const char *word;
} signs[] = {
  { SB_WORD_DELIMITER, ',', "comma" }, { SB_WORD_DELIMITER, ';', "semicolon" },   { SB_WORD_DELIMITER, '\t', "tab" },
  { SB_WORD_DELIMITER, '|', "bar" },   { SB_WORD_DELIMITER, ' ', "blanks" },      { SB_WORD_DECIMAL, '.', "point" },
  { SB_WORD_DECIMAL, ',', "comma" },   { SB_WORD_THOUSANDS, 0, "none" },          { SB_WORD_THOUSANDS, ',', "comma" },
  { SB_WORD_THOUSANDS, '.', "point" }, { SB_WORD_THOUSANDS, '\'', "apostrophe" }, { SB_WORD_THOUSANDS, ' ', "blank" },
  { SB_WORD_QUOTE, '"', "double" },    { SB_WORD_QUOTE, '\'', "single" },         { SB_WORD_QUOTE, 0, "none" },
};

static const char *const encodings[SB_N_ENCODINGS] = {
  [SB_ENCODING_UTF8] = "UTF-8",
  [SB_ENCODING_LATIN1] = "Latin-1",
  [SB_ENCODING_UTF16_LE] = "UTF-16 LE",
  [SB_ENCODING_UTF16_BE] = "UTF-16 BE",
  [SB_ENCODING_WINDOWS_1250] = "Windows-1250",
};

const char *
sb_sign_word (SbWordKind kind, char sign)
{
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    if (signs[i].kind == kind && signs[i].sign == sign)
      return signs[i].word;
  return NULL;
}

gboolean
sb_sign_find (SbWordKind kind, const char *word, char *sign)
{
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++) {
    const char itself[] = { signs[i].sign, '\0' };
    gboolean written_out = signs[i].sign != 0 && strcmp (word, itself) == 0;
    if (signs[i].kind != kind || (strcmp (word, signs[i].word) != 0 && !written_out))
      continue;
    *sign = signs[i].sign;
    return TRUE;
  }
  return FALSE;
}

const char *
sb_encoding_name (SbEncoding encoding)
{
  g_return_val_if_fail (encoding < SB_N_ENCODINGS, NULL);
  return encodings[encoding];
}

static char *
fold (const char *name)
{
  GString *folded = g_string_new (NULL);
  for (const char *p = name; *p != '\0'; p++)
    if (*p != ' ' && *p != '-')
      g_string_append_c (folded, g_ascii_tolower (*p));
  return g_string_free (folded, FALSE);
}

gboolean
sb_encoding_find (const char *name, SbEncoding *encoding)
{
  g_autofree char *wanted = fold (name);
  for (guint i = 0; i < SB_N_ENCODINGS; i++) {
    g_autofree char *folded = fold (encodings[i]);
    if (strcmp (folded, wanted) != 0)
      continue;
    *encoding = (SbEncoding) i;
    return TRUE;
  }
  return FALSE;
}

char *
sb_sign_list (SbWordKind kind)
{
  GString *list = g_string_new (NULL);
  const char *last = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++) {
    if (signs[i].kind != kind)
      continue;
    if (last != NULL)
      g_string_append_printf (list, "%s%s", list->len > 0 ? ", " : "", last);
    last = signs[i].word;
  }
  g_string_append_printf (list, " or %s", last);
  return g_string_free (list, FALSE);
}
