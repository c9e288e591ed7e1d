/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number_unit.h"

#include "log_build.h"
#include "number.h"
#include "number_style.h"

#include <string.h>

/* No unit is longer. */
#define LONGEST_UNIT 48

static gsize
digits_from (const char *text, gsize from, gsize length, const char *others)
{
  while (from < length && (g_ascii_isdigit (text[from]) || (text[from] != '\0' && strchr (others, text[from]) != NULL)))
    from++;
  return from;
}

/* "-1.5e-3": the end of it. */
static gsize
number_end (const char *text, gsize length)
{
  gboolean negative;
  gsize start = sb_number_sign_length (text, text + length, &negative);
  gsize end = digits_from (text, start, length, ".,'");
  if (end == start || end + 1 >= length || (text[end] != 'e' && text[end] != 'E'))
    return end > start ? end : 0;
  gsize exponent = end + 1 + sb_number_sign_length (text + end + 1, text + length, &negative);
  gsize behind = digits_from (text, exponent, length, "");
  return behind > exponent ? behind : end;
}

gsize
sb_number_before_unit (const char *text, gsize length, const SbUnit **unit)
{
  gsize number = number_end (text, length), from = number, blank;
  while (from < length && (blank = sb_blank_length (text + from, text + length)) > 0)
    from += blank;
  if (number == 0 || from == length || length - from > LONGEST_UNIT
      || memchr (text + from, '\0', length - from) != NULL)
    return 0;
  g_autofree char *spelling = sb_text_to_utf8 (text + from, length - from);
  *unit = sb_unit_find (g_strchomp (spelling));
  return *unit != NULL ? number : 0;
}
