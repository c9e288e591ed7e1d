/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values for people, rounded as JCGM 100:2008 (GUM) 7.2.6 asks. */
#include "measure_table.h"
#include "units.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS_OF_UNCERTAINTY 2
#define DIGITS_WITHOUT        4
/* More than any torque or speed sensor carries is not shown. */
#define MOST_DIGITS 8

/* Decimals that leave `digits` significant digits of x != 0, counted after rounding: 0.0996 to two digits is 0.10. */
static int
decimals_of (double x, int digits)
{
  char text[40];
  snprintf (text, sizeof text, "%.*e", digits - 1, fabs (x));
  return digits - 1 - atoi (strchr (text, 'e') + 1);
}

/* The point is always '.', whatever the locale; a minus is a minus sign. */
static char *
write_number (double x, int decimals)
{
  if (decimals < 0) {
    double unit = pow (10, -decimals);
    x = round (x / unit) * unit;
    decimals = 0;
  }
  char format[16], text[512];
  snprintf (format, sizeof format, "%%.%df", decimals);
  g_ascii_formatd (text, sizeof text, format, x);
  const char *digits = text[0] == '-' ? text + 1 : text;
  gboolean nothing = strspn (digits, "0.") == strlen (digits);
  return g_strdup_printf ("%s%s", text[0] == '-' && !nothing ? "−" : "", digits);
}

char *
sb_number_format (double value, double uncertainty)
{
  gboolean known = isfinite (uncertainty) && uncertainty > 0;
  gboolean is_zero = !(fabs (value) > 0);
  if (!isfinite (value))
    return g_strdup ("–");
  if (!known && is_zero)
    return write_number (value, 0);
  int decimals = known ? decimals_of (uncertainty, DIGITS_OF_UNCERTAINTY) : decimals_of (value, DIGITS_WITHOUT);
  int most = is_zero ? MOST_DIGITS : decimals_of (value, MOST_DIGITS);
  return write_number (value, MIN (decimals, CLAMP (most, 0, 300)));
}

char *
sb_number_plain (double value)
{
  char text[40];
  gboolean large = fabs (value) >= 1e6 && fabs (value) < 1e15;
  return g_strdup (g_ascii_formatd (text, sizeof text, large ? "%.0f" : "%.6g", value));
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
    g_autofree char *number = write_number (g_ascii_strtod (start, NULL), decimals);
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

static char *
rounded (SbMeasureId id, double shown, double uncertainty)
{
  gboolean known = isfinite (uncertainty) && uncertainty > 0;
  if (!known && id == SB_MEASURE_RINGING_CYCLES && !(fabs (shown - round (shown)) > 0))
    return write_number (shown, 0);
  return sb_number_format (shown, uncertainty);
}

char *
sb_measure_format_in (SbMeasureId id, SbUnits units, double value, double uncertainty, gboolean with_unit)
{
  SbShownUnit unit = sb_measure_shown_unit (id, units);
  if (!isfinite (value))
    return g_strdup ("–");
  g_autofree char *number = rounded (id, value * unit.factor, fabs (uncertainty * unit.factor));
  if (!with_unit || strcmp (unit.name, "1") == 0)
    return g_steal_pointer (&number);
  return g_strdup_printf ("%s %s", number, unit.name);
}

char *
sb_measure_format (SbMeasureId id, double value, double uncertainty, gboolean with_unit)
{
  return sb_measure_format_in (id, (SbUnits){ 0 }, value, uncertainty, with_unit);
}
