/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain_windows.h"
#include "line.h"
#include "number.h"
#include "plain_cells.h"

#include <immintrin.h>
#include <math.h>
#include <string.h>

/* So many digits are an integer that is a double, and with their point 16 bytes. */
#define MAX_DIGITS 15

/* 64 bytes at a time: one bit for each, the lowest for the first. The ends of all cells are found first, so that the
 * processor converts several cells at once. */
typedef struct {
  const char *text;
  guint64 ends;   /* delimiters and line ends */
  guint64 others; /* what is no digit */
  guint64 points; /* decimal signs */
} Window;

static inline guint64
set_bits (__m256i low, __m256i high)
{
  return (guint64) (guint) _mm256_movemask_epi8 (low) | (guint64) (guint) _mm256_movemask_epi8 (high) << 32;
}

static inline __m256i
find_ends (__m256i bytes, __m256i delimiter)
{
  __m256i line_end = _mm256_or_si256 (_mm256_cmpeq_epi8 (bytes, _mm256_set1_epi8 ('\n')),
                                      _mm256_cmpeq_epi8 (bytes, _mm256_set1_epi8 ('\r')));
  return _mm256_or_si256 (line_end, _mm256_cmpeq_epi8 (bytes, delimiter));
}

static inline __m256i
find_digits (__m256i bytes)
{
  __m256i from_zero = _mm256_sub_epi8 (bytes, _mm256_set1_epi8 ('0'));
  return _mm256_cmpeq_epi8 (_mm256_min_epu8 (from_zero, _mm256_set1_epi8 (9)), from_zero);
}

static inline Window
look_at (const char *text, __m256i delimiter, __m256i decimal)
{
  __m256i low = _mm256_loadu_si256 ((const __m256i *) (const void *) text);
  __m256i high = _mm256_loadu_si256 ((const __m256i *) (const void *) (text + 32));
  return (Window){ text, set_bits (find_ends (low, delimiter), find_ends (high, delimiter)),
                   ~set_bits (find_digits (low), find_digits (high)),
                   set_bits (_mm256_cmpeq_epi8 (low, decimal), _mm256_cmpeq_epi8 (high, decimal)) };
}

/* The integer of `n_digits` digits at `text`, of which those from `n_whole` on stand one byte further. They are moved
 * to the end of 16 bytes, then made pairs, fours and eights. */
static inline gint64
convert (const char *text, guint n_digits, guint n_whole)
{
  static const gint8 ramp[32]
      = { -128, -128, -128, -128, -128, -128, -128, -128, -128, -128, -128, -128, -128, -128, -128, -128,
          0,    1,    2,    3,    4,    5,    6,    7,    8,    9,    10,   11,   12,   13,   14,   15 };
  __m128i bytes = _mm_loadu_si128 ((const __m128i *) (const void *) text);
  __m128i from = _mm_loadu_si128 ((const __m128i *) (const void *) (ramp + n_digits));
  __m128i behind_point = _mm_cmpgt_epi8 (from, _mm_set1_epi8 ((char) (n_whole - 1)));
  __m128i digits = _mm_shuffle_epi8 (_mm_sub_epi8 (bytes, _mm_set1_epi8 ('0')), _mm_sub_epi8 (from, behind_point));
  __m128i pairs = _mm_maddubs_epi16 (digits, _mm_set1_epi16 (1 << 8 | 10));
  __m128i fours = _mm_madd_epi16 (pairs, _mm_set1_epi32 (1 << 16 | 100));
  __m128i eights = _mm_madd_epi16 (_mm_packus_epi32 (fours, fours), _mm_set1_epi32 (1 << 16 | 10000));
  guint64 both = (guint64) _mm_cvtsi128_si64 (eights);
  return (gint64) ((both & 0xffffffff) * 100000000 + (both >> 32));
}

/* The cell from `text`, whose bit is `first`, up to that of `last`. */
static inline gboolean
read_cell (const SbRows *rows, const SbRowColumn *column, const Window *window, const char *text, guint64 first,
           guint64 last, double *value)
{
  guint64 negative = *text == '-';
  guint64 others = (window->others & (last - first)) ^ (first & -negative);
  guint start = (guint) (text - window->text) + (guint) negative;
  guint end = (guint) __builtin_ctzll (last), point = (guint) __builtin_ctzll (others | last);
  guint has_point = others != 0;
  guint n_digits = end - start - has_point, n_decimals = end - point - has_point;
  guint divisor = n_decimals - (guint) column->power_of_ten;
  guint64 odd = (others & ~window->points) | (others & (others - 1));
  if (G_UNLIKELY (odd != 0 || n_digits - 1 >= MAX_DIGITS || divisor >= SB_N_EXACT_POWERS)) {
    if (!sb_plain_cell_read (text, window->text + end, rows->decimal, column->power_of_ten, value))
      return FALSE;
  } else {
    double magnitude = (double) convert (text + negative, n_digits, point - start) / sb_exact_power_of_ten[divisor];
    guint64 bits;
    memcpy (&bits, &magnitude, sizeof bits);
    bits |= negative << 63;
    memcpy (value, &bits, sizeof bits);
  }
  return !column->scaled || fabs (*value *= column->factor) <= SB_LARGEST_VALUE;
}

/* One row into place n_rows of the values; the start of the next line, or NULL when the row is not plain. */
static inline const char *
read_row (SbRows *rows, const char *p, const char *end)
{
  const SbRowColumn *column = rows->columns, *last_column = column + rows->n_columns - 1;
  __m256i delimiter = _mm256_set1_epi8 (rows->delimiter), decimal = _mm256_set1_epi8 (rows->decimal);
  Window window = look_at (p, delimiter, decimal);
  for (guint64 first = 1;; column++) {
    if (G_UNLIKELY (window.ends == 0)) {
      window = look_at (p, delimiter, decimal);
      first = 1;
      if (window.ends == 0)
        return NULL;
    }
    guint64 last = window.ends & -window.ends;
    const char *cell_end = window.text + __builtin_ctzll (last);
    if (G_UNLIKELY (column->channel < 0)) {
      if (sb_plain_cell_pass (rows, column, p) != cell_end)
        return NULL;
    } else if (G_UNLIKELY (
                   !read_cell (rows, column, &window, p, first, last, &rows->values[column->channel][rows->n_rows]))) {
      return NULL;
    }
    if (column == last_column)
      return sb_plain_line_end (cell_end, end, rows->delimiter);
    if (G_UNLIKELY (*cell_end != rows->delimiter))
      return NULL;
    p = cell_end + 1;
    first = last << 1;
    window.ends ^= last;
  }
}

const char *
sb_plain_windows_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines)
{
  return sb_plain_rows_walk (rows, text, end, n_lines, read_row);
}
