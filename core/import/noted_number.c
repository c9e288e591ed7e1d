/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "noted_number.h"

#include "number.h"
#include "number_style.h"
#include "number_text.h"

#include <math.h>
#include <string.h>

/* No value of a bench is longer. */
#define LONGEST_NUMBER 64

SbNotedStyle
sb_noted_style (const SbLayout *layout)
{
  SbNotedStyle style = { ',', '.', '\0' };
  if (layout != NULL)
    style = (SbNotedStyle){ layout->delimiter, layout->decimal, layout->thousands };
  return style;
}

/* The bytes of "'500" or of " 500" at `text`: a group, and no digit behind it. */
static gsize
group_length (const char *text)
{
  const char *end = text + strlen (text);
  gsize sign = *text == '\'' ? 1 : g_str_has_prefix (text, "\xe2\x80\x99") ? 3 : sb_blank_length (text, end);
  return sign > 0 && strspn (text + sign, "0123456789") == 3 ? sign + 3 : 0;
}

gsize
sb_noted_length (const char *text, gboolean comma_ends)
{
  gboolean negative;
  gsize start = sb_number_sign_length (text, text + strlen (text), &negative), n = start, group = 0;
  const char *digits = comma_ends ? "0123456789." : "0123456789.,";
  n += strspn (text + n, digits);
  while (n > start && g_ascii_isdigit (text[n - 1]) && (group = group_length (text + n)) > 0)
    n += group;
  if (group == 0)
    n += strspn (text + n, digits);
  while (n > start && (text[n - 1] == ',' || text[n - 1] == '.'))
    n--;
  gsize exponent = n > start && (text[n] == 'e' || text[n] == 'E') ? 1 : 0;
  if (exponent > 0)
    exponent += sb_number_sign_length (text + n + 1, text + strlen (text), &negative);
  gsize power = exponent > 0 ? strspn (text + n + exponent, "0123456789") : 0;
  return n == start ? 0 : power > 0 ? n + exponent + power : n;
}

static gboolean
read_as (const char *text, gsize length, char decimal, char thousands, double *value)
{
  char plain[LONGEST_NUMBER];
  double read;
  gsize n = thousands != '\0' ? sb_number_ungroup (text, length, thousands, decimal, plain, sizeof plain) : 0;
  gboolean good
      = sb_number_read (text, length, decimal, 0, &read) || (n > 0 && sb_number_read (plain, n, decimal, 0, &read));
  if (!good || !isfinite (read))
    return FALSE;
  *value = read;
  return TRUE;
}

/* One sign before three digits: what the table makes of it. */
static SbNoted
read_open (const char *text, gsize length, char sign, const SbNotedStyle *style, double *value)
{
  if (sign == ',' && style->decimal == ',')
    return read_as (text, length, ',', '\0', value) ? SB_NOTED_PLAIN : SB_NOTED_NONE;
  gboolean comma_groups = style->decimal == '.' && (style->delimiter == ',' || style->thousands == ',');
  if ((sign == ',' && comma_groups) || (sign == '.' && style->decimal == ','))
    return read_as (text, length, sign == ',' ? '.' : ',', sign, value) ? SB_NOTED_BY_TABLE : SB_NOTED_NONE;
  /* The point is the decimal sign of programs; a semicolon alone tells of people who write a comma. */
  if (sign == '.' && (style->decimal == '.' || style->delimiter != ';'))
    return read_as (text, length, '.', '\0', value) ? SB_NOTED_PLAIN : SB_NOTED_NONE;
  return SB_NOTED_UNCLEAR;
}

SbNoted
sb_noted_read (const char *text, gsize length, const SbNotedStyle *style, double *value)
{
  SbNumberStyle shown = { 0 };
  char decimal, thousands;
  sb_number_style_add (&shown, text, length, 0);
  if (shown.open[0] > 0 || shown.open[1] > 0)
    return read_open (text, length, shown.open[0] > 0 ? '.' : ',', style, value);
  sb_number_style_decide (&shown, '\t', &decimal, &thousands);
  return read_as (text, length, decimal != '\0' ? decimal : '.', thousands, value) ? SB_NOTED_PLAIN : SB_NOTED_NONE;
}

char *
sb_noted_unclear (const char *text, gsize length)
{
  double whole = 0.0, parted = 0.0;
  char sign = memchr (text, ',', length) != NULL ? ',' : '.';
  read_as (text, length, sign == ',' ? '.' : ',', sign, &whole);
  read_as (text, length, sign, '\0', &parted);
  g_autofree char *one = sb_number_plain (whole), *other = sb_number_plain (parted);
  return g_strdup_printf ("may be %s or %s: write it as one of these", one, other);
}
