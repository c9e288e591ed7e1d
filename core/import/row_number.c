/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "row_number.h"

#include "number.h"
#include "number_style.h"
#include "number_text.h"
#include "number_unit.h"

#include <string.h>

/* With groups of digits; the others are as long as they like. */
#define LONGEST_NUMBER 64

/* "1.234" alone, among numbers with commas, may be the slip of a pen: a point or comma that only one number far behind
 * shows as the sign of thousands parts digits where the decimal sign is there, too. */
static char
thousands_of (const SbRows *rows, const char *text, gsize length)
{
  if (rows->thousands != '\0')
    return rows->thousands;
  gboolean may_be_decimal = rows->late_thousands == '.' || rows->late_thousands == ',';
  return may_be_decimal && memchr (text, rows->decimal, length) == NULL ? '\0' : rows->late_thousands;
}

gboolean
sb_row_number_plain (const SbRows *rows, const char *text, gsize length, int power_of_ten, double *value)
{
  char decimal = rows->decimal != 0 ? rows->decimal : '.', plain[LONGEST_NUMBER];
  char thousands = thousands_of (rows, text, length);
  if (sb_number_read (text, length, decimal, power_of_ten, value))
    return TRUE;
  gsize n = thousands != '\0' ? sb_number_ungroup (text, length, thousands, decimal, plain, sizeof plain) : 0;
  return n > 0 && sb_number_read (plain, n, decimal, power_of_ten, value);
}

/* "1 234,5" where no line that was looked at has a group: with the decimal sign known it can be read in one way. */
static gboolean
learn_thousands (SbRows *rows, const char *text, gsize length)
{
  static const char signs[] = { ' ', '\'', '.', ',' };
  double value;
  gsize sign = length > 0 && (*text == '-' || *text == '+') ? 1 : 0;
  gboolean open = rows->thousands == '\0' && rows->late_thousands == '\0' && !rows->is_thousands_stated
                  && rows->decimal != '\0' && sign < length && text[sign] != '0';
  for (gsize i = 0; open && i < sizeof signs; i++) {
    if (signs[i] == rows->decimal)
      continue;
    rows->late_thousands = signs[i];
    if (sb_row_number_plain (rows, text, length, 0, &value))
      return TRUE;
  }
  if (open)
    rows->late_thousands = '\0';
  return FALSE;
}

static gboolean
read_with_unit (const SbRows *rows, const char *text, gsize length, guint index, double *value, const SbUnit **other)
{
  const SbUnit *found, *unit = rows->conversions[index].unit;
  gsize n = sb_number_before_unit (text, length, &found);
  if (n == 0 || !sb_row_number_plain (rows, text, n, rows->columns[index].power_of_ten, value))
    return FALSE;
  *other = found != unit ? found : NULL;
  return found == unit;
}

gboolean
sb_row_number_read (SbRows *rows, const char *text, gsize length, guint index, double *value, const SbUnit **other)
{
  int power_of_ten = rows->columns[index].power_of_ten;
  *other = NULL;
  return sb_row_number_plain (rows, text, length, power_of_ten, value)
         || read_with_unit (rows, text, length, index, value, other)
         || (learn_thousands (rows, text, length) && sb_row_number_plain (rows, text, length, power_of_ten, value));
}
