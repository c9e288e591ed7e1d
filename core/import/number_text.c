/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

char *
sb_number_with_decimals (double value, int decimals)
{
  char format[16], text[512];
  g_snprintf (format, sizeof format, "%%.%df", decimals);
  return g_strdup (g_ascii_formatd (text, sizeof text, format, value));
}

char *
sb_number_plain (double value)
{
  char text[40];
  gboolean large = fabs (value) >= 1e6 && fabs (value) < 1e15;
  return sb_plain_sentence (g_strdup (g_ascii_formatd (text, sizeof text, large ? "%.0f" : "%.6g", value)));
}

char *
sb_seconds_plain (double seconds)
{
  static const struct {
    double least;
    const char *unit;
    double per_second;
  } units[] = { { 0.1, "s", 1 }, { 1e-4, "ms", 1e3 }, { 1e-7, "µs", 1e6 } };
  gsize i = 0;
  while (i + 1 < G_N_ELEMENTS (units) && fabs (seconds) < units[i].least)
    i++;
  if (!(fabs (seconds) > 0))
    i = 0;
  char text[40];
  g_ascii_formatd (text, sizeof text, "%.3g", seconds * units[i].per_second);
  g_autofree char *number = sb_plain_sentence (g_strdup (text));
  return g_strdup_printf ("%s %s", number, units[i].unit);
}

/* Beyond these nobody would read the zeros. */
#define LEAST_POWER    -12
#define GREATEST_POWER 20

/* Whether a number that ends at `end` is followed by no more of a word, as "2e+03.csv" would be. */
static gboolean
ends_there (const char *end)
{
  return !g_ascii_isalnum (end[0]) && !(end[0] == '.' && g_ascii_isalnum (end[1]));
}

/* The number around the `e` of its power, as long as *length from `start` on; FALSE when it is none. */
static gboolean
find_number (const char *text, const char *e, const char **start, gsize *length, int *decimals)
{
  const char *from = e, *point = NULL;
  while (from > text && (g_ascii_isdigit (from[-1]) || (from[-1] == '.' && point == NULL)))
    if (*--from == '.')
      point = from;
  if (from == e || (from > text && (g_ascii_isalnum (from[-1]) || from[-1] == '.')) || strspn (e + 1, "+-") != 1)
    return FALSE;
  gsize n_digits = strspn (e + 2, "0123456789");
  int power = atoi (e + 1);
  *decimals = MAX ((point != NULL ? (int) (e - point) - 1 : 0) - power, 0);
  *start = from;
  *length = (gsize) (e - from) + 2 + n_digits;
  return n_digits >= 2 && power >= LEAST_POWER && power <= GREATEST_POWER && ends_there (from + *length);
}

char *
sb_plain_sentence (char *text)
{
  GString *plain = NULL;
  const char *told = text, *start;
  gsize length;
  int decimals;
  for (const char *e = strchr (text, 'e'); e != NULL; e = strchr (e + 1, 'e')) {
    if (!find_number (text, e, &start, &length, &decimals))
      continue;
    g_autofree char *number = sb_number_with_decimals (g_ascii_strtod (start, NULL), decimals);
    plain = plain != NULL ? plain : g_string_new (NULL);
    g_string_append_len (plain, told, start - told);
    g_string_append (plain, number);
    told = start + length;
  }
  if (plain == NULL)
    return text;
  g_string_append (plain, told);
  g_free (text);
  return g_string_free (plain, FALSE);
}
