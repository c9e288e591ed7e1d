/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number.h"

#include <math.h>
#include <string.h>

const double sb_exact_power_of_ten[SB_N_EXACT_POWERS]
    = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
        1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };

/* 19 digits always fit 64 bits, 20 do not. */
#define MAX_DIGITS 19
/* Beyond every double, and far from overflowing when a shift and the length of a line are added. */
#define MAX_EXPONENT 100000000

/* What the text says, before it is made a double. */
typedef struct {
  gboolean negative;
  guint64 mantissa;          /* of the first MAX_DIGITS significant digits */
  guint n_significant;       /* significant digits in all */
  int exponent;              /* of ten, for the mantissa read as an integer */
  int written_exponent;      /* what follows the 'e' */
  const char *unsigned_text; /* behind the sign */
  gsize n_mantissa_text;     /* bytes of digits and decimal sign from there */
} Decimal;

#ifdef __SIZEOF_INT128__
__extension__ typedef unsigned __int128 Wide;

/* (high . low) * 2^binary_exponent with `inexact` telling of anything below, to the nearest double. The value must be
 * well inside the range of normal doubles; `high` has its top bit set. */
static double
round_to_double (guint64 high, gboolean inexact, int binary_exponent)
{
  guint64 kept = high >> 11;
  guint64 rest = high & 0x7ff;
  gboolean up = rest > 0x400 || (rest == 0x400 && (inexact || (kept & 1)));
  return ldexp ((double) (kept + (up ? 1 : 0)), binary_exponent + 11);
}

static guint64
integer_power_of_ten (int exponent)
{
  guint64 power = 1;
  for (int i = 0; i < exponent; i++)
    power *= 10;
  return power;
}

static double
multiply_exactly (guint64 mantissa, guint64 power)
{
  Wide product = (Wide) mantissa * power;
  guint64 high = (guint64) (product >> 64);
  if (high == 0)
    return (double) (guint64) product;
  int shift = __builtin_clzll (high);
  product <<= shift;
  return round_to_double ((guint64) (product >> 64), (guint64) product != 0, 64 - shift);
}

static double
divide_exactly (guint64 mantissa, guint64 power)
{
  int mantissa_shift = __builtin_clzll (mantissa);
  int power_shift = __builtin_clzll (power);
  guint64 divisor = power << power_shift;
  /* Half of the shifted mantissa is below the divisor, so that the quotient fits 64 bits and has at least 63. */
  Wide dividend = (Wide) (mantissa << mantissa_shift) << 63;
  guint64 quotient = (guint64) (dividend / divisor);
  gboolean inexact = (Wide) quotient * divisor != dividend;
  int shift = __builtin_clzll (quotient);
  return round_to_double (quotient << shift, inexact, power_shift - mantissa_shift - 63 - shift);
}
#endif

gboolean
sb_number_compose (guint64 mantissa, int exponent, double *value)
{
  if (mantissa == 0) {
    *value = 0.0;
    return TRUE;
  }
  if (mantissa <= SB_EXACT_MANTISSA && exponent <= 22 && exponent >= -22) {
    double number = (double) mantissa;
    *value = exponent < 0 ? number / sb_exact_power_of_ten[-exponent] : number * sb_exact_power_of_ten[exponent];
    return TRUE;
  }
#ifdef __SIZEOF_INT128__
  if (exponent <= MAX_DIGITS && exponent >= -MAX_DIGITS) {
    *value = exponent < 0 ? divide_exactly (mantissa, integer_power_of_ten (-exponent))
                          : multiply_exactly (mantissa, integer_power_of_ten (exponent));
    return TRUE;
  }
#endif
  return FALSE;
}

static const char *
scan_digits (const char *p, const char *end, Decimal *number, int exponent_per_digit)
{
  for (; p < end && g_ascii_isdigit (*p); p++) {
    guint digit = (guint) (*p - '0');
    number->exponent += exponent_per_digit;
    if (number->n_significant == 0 && digit == 0)
      continue;
    if (number->n_significant < MAX_DIGITS)
      number->mantissa = number->mantissa * 10 + digit;
    else
      number->exponent++;
    number->n_significant++;
  }
  return p;
}

gsize
sb_number_sign_length (const char *text, const char *end, gboolean *negative)
{
  *negative = FALSE;
  if (text == end)
    return 0;
  *negative = *text == '-';
  if (*text == '+' || *text == '-')
    return 1;
  *negative = end - text >= 3 && memcmp (text, "\xe2\x88\x92", 3) == 0;
  return *negative ? 3 : 0;
}

/* The digits of an exponent; NULL when there are none. */
static const char *
scan_exponent (const char *p, const char *end, Decimal *number)
{
  gboolean negative;
  p += sb_number_sign_length (p, end, &negative);
  if (p == end || !g_ascii_isdigit (*p))
    return NULL;
  int exponent = 0;
  for (; p < end && g_ascii_isdigit (*p); p++)
    exponent = MIN (exponent * 10 + (*p - '0'), MAX_EXPONENT);
  number->written_exponent = negative ? -exponent : exponent;
  number->exponent += number->written_exponent;
  return p;
}

static gboolean
scan (const char *text, gsize length, char decimal, Decimal *number)
{
  const char *p = text, *end = text + length;
  p += sb_number_sign_length (p, end, &number->negative);
  const char *digits = p;
  number->unsigned_text = p;
  p = scan_digits (p, end, number, 0);
  gsize n_digits = (gsize) (p - digits);
  if (p < end && *p == decimal) {
    digits = ++p;
    p = scan_digits (p, end, number, -1);
    n_digits += (gsize) (p - digits);
  }
  if (n_digits == 0)
    return FALSE;
  number->n_mantissa_text = (gsize) (p - number->unsigned_text);
  if (p < end && (*p == 'e' || *p == 'E'))
    p = scan_exponent (p + 1, end, number);
  return p == end;
}

static double
read_with_strtod (const Decimal *number, char decimal, int shift)
{
  char few[256];
  gsize room = number->n_mantissa_text + 16;
  g_autofree char *many = room > sizeof few ? g_malloc (room) : NULL;
  char *copy = many != NULL ? many : few;
  memcpy (copy, number->unsigned_text, number->n_mantissa_text);
  char *sign = memchr (copy, decimal, number->n_mantissa_text);
  if (sign != NULL)
    *sign = '.';
  g_snprintf (copy + number->n_mantissa_text, 16, "e%d", number->written_exponent + shift);
  return g_ascii_strtod (copy, NULL);
}

gboolean
sb_number_read (const char *text, gsize length, char decimal, int shift, double *value)
{
  Decimal number = { 0 };
  double magnitude;
  if (!scan (text, length, decimal, &number))
    return FALSE;
  if (number.n_significant > MAX_DIGITS || !sb_number_compose (number.mantissa, number.exponent + shift, &magnitude))
    magnitude = read_with_strtod (&number, decimal, shift);
  *value = number.negative ? -magnitude : magnitude;
  return TRUE;
}
