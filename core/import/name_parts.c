/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "name_parts.h"

#include "vocabulary.h"

#include <string.h>

/* The bytes of a prefix of the SI that stands alone close before the last `n` bytes of a name: 1 in "torque_kNm", 0 in
 * "torque_Nm" and "torqueNm". A letter that stands for a quantity ("n") is none. */
static gsize
prefix_before (const char *name, gsize n)
{
  static const char *const prefixes[] = { "k", "h", "da", "d", "c", "m", "u", "µ", "μ", "p" };
  gsize length = strlen (name);
  for (guint i = 0; i < G_N_ELEMENTS (prefixes); i++) {
    gsize n_prefix = strlen (prefixes[i]);
    if (length < n + n_prefix || memcmp (name + length - n - n_prefix, prefixes[i], n_prefix) != 0)
      continue;
    if (length == n + n_prefix || strchr ("_ /-.", name[length - n - n_prefix - 1]) != NULL)
      return n_prefix;
  }
  return 0;
}

char *
sb_name_last_word (const char *name)
{
  g_autoptr (GPtrArray) words = sb_words_split (name);
  if (words->len < 2)
    return NULL;
  const char *word = words->pdata[words->len - 1];
  gsize length = strlen (name), n = strlen (word);
  if (n >= length || g_ascii_strcasecmp (name + length - n, word) != 0)
    return g_strdup (word);
  /* Where letters are small and large, a large one may be mega: "torque_MNm" is in no mN·m. */
  gboolean mixed = strpbrk (name, "abcdefghijklmnopqrstuvwxyz") != NULL;
  gsize prefix = prefix_before (name, n);
  return g_strdup (prefix > 0 || mixed ? name + length - n - prefix : word);
}

#define N_LETTERS 2

char *
sb_name_factor (const char *name)
{
  static const char *const signs[] = { "x", "X", "*", "×" }; /* the letters may be part of a word */
  for (const char *p = name; *p != '\0'; p++) {
    gboolean apart = p == name || strchr ("_ ([-", p[-1]) != NULL;
    for (guint i = apart ? 0 : N_LETTERS; i < G_N_ELEMENTS (signs); i++) {
      gsize n = g_str_has_prefix (p, signs[i]) ? strlen (signs[i]) : 0;
      gsize zeros = n > 0 && p[n] == '1' ? strspn (p + n + 1, "0") : 0;
      if (zeros > 0 && !g_ascii_isalnum (p[n + 1 + zeros]))
        return g_strndup (p, n + 1 + zeros);
    }
  }
  return NULL;
}

/* "Torque→", "Torque™": arrows and marks of trade and right are no units. */
static gboolean
is_ornament (gunichar letter)
{
  return (letter >= 0x2190 && letter <= 0x21ff) || letter == 0x2122 || letter == 0xae || letter == 0xa9;
}

/* Marks of per mille, per ten thousand, minutes and seconds of arc; the others are known by their class. */
static gboolean
is_sign (gunichar letter)
{
  GUnicodeType type = g_unichar_type (letter);
  return letter >= 0x80
         && (type == G_UNICODE_MATH_SYMBOL || type == G_UNICODE_CURRENCY_SYMBOL || type == G_UNICODE_OTHER_SYMBOL
             || (letter >= 0x2030 && letter <= 0x2034))
         && letter != 0xfffd && !is_ornament (letter);
}

char *
sb_name_sign (const char *name)
{
  const char *end = name + strlen (name), *start = end;
  for (const char *p = end; p > name; start = p) {
    p = g_utf8_prev_char (p);
    if (!is_sign (g_utf8_get_char (p)))
      break;
  }
  return start < end && start > name ? g_strdup (start) : NULL;
}
