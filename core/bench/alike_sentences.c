/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "alike_sentences.h"

#include <string.h>

/* "0.19", "1.4e+03": the bytes of the number that begins here. */
static gsize
number_length (const char *text)
{
  gsize n = strspn (text, "0123456789");
  if (text[n] == '.' && g_ascii_isdigit (text[n + 1]))
    n += 1 + strspn (text + n + 1, "0123456789");
  if (text[n] == 'e' && (text[n + 1] == '+' || text[n + 1] == '-') && g_ascii_isdigit (text[n + 2]))
    n += 2 + strspn (text + n + 2, "0123456789");
  return n;
}

/* Whether the number is one of its own, and no part of a name. */
static gboolean
is_alone (const char *sentence, gsize from, gsize to)
{
  const char before = from > 0 ? sentence[from - 1] : ' ', after = sentence[to];
  gboolean in_name = g_ascii_isalnum (before) || strchr ("-._/#", before) != NULL || g_ascii_isalpha (after)
                     || (after != '\0' && strchr ("-_/", after) != NULL)
                     || (after == '.' && g_ascii_isalnum (sentence[to + 1]));
  return !in_name;
}

/* "'torque 2 [V]'": the bytes of what is quoted here, quotes and all; 0 where nothing is, as at an apostrophe. */
static gsize
quoted_length (const char *sentence, gsize from)
{
  const char quote = sentence[from];
  if ((quote != '\'' && quote != '"') || (from > 0 && g_ascii_isalnum (sentence[from - 1])))
    return 0;
  for (const char *end = strchr (sentence + from + 1, quote); end != NULL; end = strchr (end + 1, quote))
    if (!g_ascii_isalnum (end[1]))
      return (gsize) (end + 1 - (sentence + from));
  return 0;
}

char *
sb_sentence_kind (const char *sentence)
{
  GString *kind = g_string_new (NULL);
  for (gsize at = 0, n; sentence[at] != '\0'; at += n) {
    n = quoted_length (sentence, at);
    gsize number = n == 0 ? number_length (sentence + at) : 0;
    gboolean is_left_out = number > 0 && is_alone (sentence, at, at + number);
    n = MAX (MAX (n, number), 1);
    g_string_append_len (kind, is_left_out ? "\x1a" : sentence + at, is_left_out ? 1 : (gssize) n);
  }
  return g_string_free (kind, FALSE);
}
