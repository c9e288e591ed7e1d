/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values for people, rounded as JCGM 100:2008 (GUM) 7.2.6 asks. */
#include "measure_table.h"

#include "steady_math.h"
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
    double unit = sb_pow (10, -decimals);
    x = round (x / unit) * unit;
    decimals = 0;
  }
  g_autofree char *text = sb_number_with_decimals (x, decimals);
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

double
sb_interval_rounding (const double interval[2])
{
  double half = (interval[1] - interval[0]) / 2;
  return half > 0 ? half : (double) NAN;
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
sb_number_with_sign (char *number, double value)
{
  g_autofree char *owned = number;
  return value > 0 && strpbrk (number, "123456789") != NULL ? g_strconcat ("+", number, NULL)
                                                            : g_steal_pointer (&owned);
}

char *
sb_measure_format_change (SbMeasureId id, SbUnits units, double value, double uncertainty, gboolean with_unit)
{
  return sb_number_with_sign (sb_measure_format_in (id, units, value, uncertainty, with_unit), value);
}

char *
sb_measure_format (SbMeasureId id, double value, double uncertainty, gboolean with_unit)
{
  return sb_measure_format_in (id, (SbUnits){ 0 }, value, uncertainty, with_unit);
}
