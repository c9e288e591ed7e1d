/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain_rows.h"
#include "line.h"
#include "number.h"
#include "plain_cells.h"
#include "plain_wide.h"
#include "plain_windows.h"

#include <math.h>
#include <string.h>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

#define EACH_BYTE(byte) ((guint64) (byte) *G_GUINT64_CONSTANT (0x0101010101010101))
/* 8 digits at a time can be added this often before 64 bits overflow. */
#define MAX_DIGITS 19

static const guint64 power_of_ten[9] = { 1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000 };

/* Eight bytes with values 0..9, the first in the lowest byte and the most significant digit: pairs, then fours, then
 * all eight by three multiplications. */
static inline guint64
eight_digits (guint64 digits)
{
  digits = digits * 10 + (digits >> 8);
  guint64 low = (digits & G_GUINT64_CONSTANT (0x000000ff000000ff)) * G_GUINT64_CONSTANT (0x000f424000000064);
  guint64 high = ((digits >> 16) & G_GUINT64_CONSTANT (0x000000ff000000ff)) * G_GUINT64_CONSTANT (0x0000271000000001);
  return (low + high) >> 32;
}

/* Appends the run of digits at *text to *number, moves *text behind it and returns its length. The result is of use
 * only while no more than MAX_DIGITS are appended in all. */
static inline guint
read_digits (const char **text, guint64 *number)
{
  guint n_digits = 0;
  for (;;) {
    guint64 bytes;
    memcpy (&bytes, *text, sizeof bytes);
    bytes = GUINT64_FROM_LE (bytes) ^ EACH_BYTE (0x30);
    /* The top bit of a byte tells that it is no digit; a carry can spoil only bytes behind the first such one. */
    guint64 others = ((bytes + EACH_BYTE (0x76)) | bytes) & EACH_BYTE (0x80);
    if (G_LIKELY (others != 0)) {
      guint n = (guint) __builtin_ctzll (others) >> 3;
      *number = *number * power_of_ten[n] + eight_digits (bytes << (8 * (7 - n)) << 8);
      *text += n;
      return n_digits + n;
    }
    *number = *number * power_of_ten[8] + eight_digits (bytes);
    *text += 8;
    n_digits += 8;
  }
}

static gboolean
belongs_to_number (char c, char decimal)
{
  return g_ascii_isdigit (c) || c == decimal || c == '+' || c == '-' || c == 'e' || c == 'E';
}

/* Long numbers and long exponents. Not inlined: it would crowd the loop that hardly ever comes here. */
static G_GNUC_NO_INLINE const char *
read_unusual_number (const char *text, char decimal, int shift, double *value)
{
  const char *end = text;
  while (belongs_to_number (*end, decimal))
    end++;
  gboolean good
      = sb_number_read (text, (gsize) (end - text), decimal, shift, value) && fabs (*value) <= SB_LARGEST_VALUE;
  return good ? end : NULL;
}

/* "e-05": adds an exponent of up to three digits to *exponent; its end, or NULL when it is of another form. */
static inline const char *
read_exponent (const char *text, int *exponent)
{
  guint64 number = 0;
  gboolean negative = *text == '-';
  const char *p = text + (negative || *text == '+' ? 1 : 0);
  guint n_digits = read_digits (&p, &number);
  if (n_digits == 0 || n_digits > 3)
    return NULL;
  *exponent += negative ? -(int) number : (int) number;
  return p;
}

/* The number at `text`; its end, or NULL when it is none. */
static inline const char *
read_number (const char *text, char decimal, int shift, double *value)
{
  const char *p = text;
  guint64 mantissa = 0;
  guint64 negative = *p == '-';
  p += negative;
  guint n_digits = read_digits (&p, &mantissa);
  guint n_decimals = 0;
  if (*p == decimal) {
    p++;
    n_decimals = read_digits (&p, &mantissa);
  }
  n_digits += n_decimals;
  int exponent = shift - (int) n_decimals;
  if (n_digits > 0 && (*p == 'e' || *p == 'E'))
    p = read_exponent (p + 1, &exponent);
  if (G_UNLIKELY (n_digits == 0 || n_digits > MAX_DIGITS || p == NULL))
    return read_unusual_number (text, decimal, shift, value);
  double magnitude;
  if (G_LIKELY (mantissa <= SB_EXACT_MANTISSA && exponent <= 0 && exponent >= -22))
    magnitude = (double) mantissa / sb_exact_power_of_ten[-exponent];
  else if (!sb_number_compose (mantissa, exponent, &magnitude))
    return read_unusual_number (text, decimal, shift, value);
  else if (G_UNLIKELY (magnitude > SB_LARGEST_VALUE))
    return NULL;
  /* The sign of a signal near zero is noise: setting its bit costs less than guessing a branch. */
  guint64 bits;
  memcpy (&bits, &magnitude, sizeof bits);
  bits |= negative << 63;
  memcpy (value, &bits, sizeof bits);
  return p;
}

#ifdef __SSE2__
/* One bit for each of the 16 bytes at `text`, set when it is no digit. */
static inline guint
find_non_digits (const char *text)
{
  __m128i bytes = _mm_loadu_si128 ((const __m128i *) (const void *) text);
  __m128i from_lowest = _mm_add_epi8 (bytes, _mm_set1_epi8 ((char) (0x80 - '0')));
  return (guint) _mm_movemask_epi8 (_mm_cmpgt_epi8 (from_lowest, _mm_set1_epi8 ((char) (-0x80 + 9))));
}

static inline guint64
load_digits (const char *text)
{
  guint64 bytes;
  memcpy (&bytes, text, sizeof bytes);
  return bytes ^ EACH_BYTE (0x30);
}

/* As read_number, for the usual cell of up to 8 digits. The next cell can begin only when this one's end is known, so
 * what counts is the way from `text` to the result: sign, decimal sign and end are found by one look at 16 bytes. */
static G_ALWAYS_INLINE inline const char *
read_short_number (const char *text, char decimal, int shift, double *value)
{
  guint64 negative = *text == '-';
  guint stops = find_non_digits (text) & ~(guint) negative;
  const char *digits = text + negative;
  guint more_stops = stops & (stops - 1);
  if (G_UNLIKELY (more_stops == 0))
    return read_number (text, decimal, shift, value);
  guint n_whole = (guint) __builtin_ctz (stops) - (guint) negative;
  guint n_digits = n_whole, n_decimals = 0;
  guint64 number = load_digits (digits);
  const char *end = digits + n_whole;
  if (*end == decimal) {
    guint64 below = load_digits (end + 1);
    end = text + __builtin_ctz (more_stops);
    n_decimals = (guint) (end - digits) - n_whole - 1;
    n_digits += n_decimals;
    /* In two halves, because a shift by all 64 bits is undefined. */
    number = (number & ~(~G_GUINT64_CONSTANT (0) << (4 * n_whole) << (4 * n_whole)))
             | (below << (4 * n_whole) << (4 * n_whole));
  }
  int exponent = shift - (int) n_decimals;
  if (G_UNLIKELY (n_digits - 1 > 7 || (*end | 0x20) == 'e' || exponent > 0))
    return read_number (text, decimal, shift, value);
  number = eight_digits (number << (8 * (8 - n_digits)));
  double magnitude = (double) (gint64) number / sb_exact_power_of_ten[-exponent];
  guint64 bits;
  memcpy (&bits, &magnitude, sizeof bits);
  bits |= negative << 63;
  memcpy (value, &bits, sizeof bits);
  return end;
}
#else
#define read_short_number read_number
#endif

/* Past a cell nobody asked for; NULL when it has a quote, which is libcsv's to understand. */
static inline const char *
skip_cell (const char *p, char delimiter, char quote)
{
  char other = delimiter == ' ' ? '\t' : delimiter;
  /* Runs of blanks part no empty cells. */
  if (delimiter == ' ' && (*p == '\n' || *p == '\r'))
    return NULL;
  while (*p != delimiter && *p != other && *p != '\n' && *p != '\r' && *p != '\0' && *p != quote)
    p++;
  return *p == quote || *p == '\0' ? NULL : p;
}

static inline const char *
skip_blanks (const char *p)
{
  while (G_UNLIKELY (*p == ' '))
    p++;
  return p;
}

/* Over a run of blanks that parts two cells; NULL when there is none. */
static inline const char *
skip_run (const char *p)
{
  const char *start = p;
  while (*p == ' ' || *p == '\t')
    p++;
  return p > start ? p : NULL;
}

/* A cell that is summed up and may be empty; NULL when it is something else, which the other way looks into. Not
 * inlined, and the readers of numbers always are: a second place that calls them must not cost the first one theirs. */
static G_GNUC_NO_INLINE const char *
read_aside (SbRows *rows, const SbRowColumn *column, const char *p)
{
  double *value = &rows->aside[column->aside];
  p = skip_blanks (p);
  if (*p != rows->delimiter && *p != '\n' && *p != '\r') {
    p = read_short_number (p, rows->decimal, column->power_of_ten, value);
    return p != NULL && rows->delimiter != ' ' ? skip_blanks (p) : p;
  }
  *value = (double) NAN;
  return rows->delimiter != ' ' ? p : NULL; /* runs of blanks part no empty cells: the row is short of one */
}

const char *
sb_plain_cell_pass (SbRows *rows, const SbRowColumn *column, const char *text)
{
  return column->aside >= 0 ? read_aside (rows, column, text) : skip_cell (text, rows->delimiter, rows->quote);
}

/* One row into place n_rows of the values; the start of the next line, or NULL when the row is not plain. */
static inline const char *
read_row (SbRows *rows, const char *p, const char *end, G_GNUC_UNUSED gpointer with)
{
  char delimiter = rows->delimiter, decimal = rows->decimal;
  gboolean runs = delimiter == ' ';
  const SbRowColumn *column = rows->columns, *behind = column + rows->n_columns;
  gsize row = rows->n_rows;
  if (runs)
    p = skip_blanks (p);
  for (gboolean first = TRUE; column < behind; column++, first = FALSE) {
    if (!first && G_UNLIKELY (runs)) {
      p = skip_run (p);
      if (p == NULL)
        return NULL;
    } else if (!first && *p++ != delimiter) {
      return NULL;
    }
    if (column->channel < 0) {
      p = sb_plain_cell_pass (rows, column, p);
      if (G_UNLIKELY (p == NULL))
        return NULL;
    } else {
      double *value = &rows->values[column->channel][row];
      p = read_short_number (skip_blanks (p), decimal, column->power_of_ten, value);
      if (G_UNLIKELY (p == NULL))
        return NULL;
      if (!runs)
        p = skip_blanks (p);
      if (column->scaled && !(fabs (*value *= column->factor) <= SB_LARGEST_VALUE))
        return NULL;
    }
  }
  return sb_plain_line_end (p, end, delimiter);
}

gboolean
sb_plain_cell_read (const char *text, const char *end, char decimal, int shift, double *value)
{
  const char *p = read_number (skip_blanks (text), decimal, shift, value);
  return p != NULL && skip_blanks (p) == end;
}

const char *
sb_plain_rows_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines)
{
  if (rows->decimal == 0 || rows->decimal == rows->delimiter || rows->has_clock || rows->row_rate_hz > 0
      || rows->ticks.offset > 0)
    return text;
#ifdef SB_WITH_WIDE
  if (rows->way == SB_ROWS_FASTEST && rows->delimiter != ' ' && sb_plain_wide_possible (rows))
    return sb_plain_wide_read (rows, text, end, n_lines);
#endif
#ifdef SB_WITH_WINDOWS
  if (rows->way == SB_ROWS_FASTEST && rows->delimiter != ' ' && __builtin_cpu_supports ("avx")
      && __builtin_cpu_supports ("bmi2"))
    return sb_plain_windows_read (rows, text, end, n_lines);
#endif
  return sb_plain_rows_walk (rows, text, end, n_lines, read_row, NULL);
}
