/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decimal text -> double, correctly rounded (to nearest, ties to even) and independent of the locale.
 *
 * Three ways, each exact: one division or multiplication when mantissa and power of ten are both doubles (Clinger
 * 1990, "How to read floating point numbers accurately"), 128-bit integer arithmetic up to 19 digits, and the C
 * library's strtod for the rest. All three agree with strtod in the C locale bit for bit. */
#pragma once

#include <glib.h>

/* 10^0 .. 10^22: the powers of ten that are doubles without rounding. */
#define SB_N_EXACT_POWERS 23
extern const double sb_exact_power_of_ten[SB_N_EXACT_POWERS];

/* A mantissa up to here is a double without rounding. */
#define SB_EXACT_MANTISSA (G_GUINT64_CONSTANT (1) << 53)

/* mantissa * 10^exponent, correctly rounded. FALSE, and *value untouched, when it would take more than 128 bits. */
gboolean sb_number_compose (guint64 mantissa, int exponent, double *value);

/* The bytes of a sign at `text` (before `end`), 0 when there is none: a plus, a minus, or the minus of mathematics,
 * U+2212. */
gsize sb_number_sign_length (const char *text, const char *end, gboolean *negative);

/* Reads the whole of `text` (`length` bytes, no NUL needed) as [+-]digits[decimal digits][e[+-]digits] with at least
 * one digit before the exponent, and gives that number times 10^shift in one rounding: "1.5" shifted by -3 is 0.0015.
 * Too large a number gives an infinity of its sign, too small a one a zero, as strtod does. FALSE, and *value
 * untouched, when the text is anything else ("", "nan", "0x1p3", "1,5" with a decimal point). */
gboolean sb_number_read (const char *text, gsize length, char decimal, int shift, double *value);
