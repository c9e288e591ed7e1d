/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain_windows.h"
#include "digest_steps.h"
#include "line.h"
#include "number.h"
#include "plain_cells.h"

#include <cpuid.h>
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
set_bits (__m128i bytes)
{
  return (guint64) (guint) _mm_movemask_epi8 (bytes);
}

static inline __m128i
find_ends (__m128i bytes, __m128i delimiter)
{
  __m128i line_end
      = _mm_or_si128 (_mm_cmpeq_epi8 (bytes, _mm_set1_epi8 ('\n')), _mm_cmpeq_epi8 (bytes, _mm_set1_epi8 ('\r')));
  return _mm_or_si128 (line_end, _mm_cmpeq_epi8 (bytes, delimiter));
}

static inline __m128i
find_digits (__m128i bytes)
{
  __m128i from_zero = _mm_sub_epi8 (bytes, _mm_set1_epi8 ('0'));
  return _mm_cmpeq_epi8 (_mm_min_epu8 (from_zero, _mm_set1_epi8 (9)), from_zero);
}

/* By 16 bytes: the instructions for SHA-256 between rows wait long where wider registers are in use. */
static inline Window
look_at (const char *text, __m128i delimiter, __m128i decimal)
{
  Window window = { .text = text };
  guint64 digits = 0;
  for (guint i = 0; i < SB_WINDOW_SIZE; i += 16) {
    __m128i bytes = _mm_loadu_si128 ((const __m128i *) (const void *) (text + i));
    window.ends |= set_bits (find_ends (bytes, delimiter)) << i;
    window.points |= set_bits (_mm_cmpeq_epi8 (bytes, decimal)) << i;
    digits |= set_bits (find_digits (bytes)) << i;
  }
  window.others = ~digits;
  return window;
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
read_row (SbRows *rows, const char *p, const char *end, G_GNUC_UNUSED gpointer with)
{
  const SbRowColumn *column = rows->columns, *last_column = column + rows->n_columns - 1;
  __m128i delimiter = _mm_set1_epi8 (rows->delimiter), decimal = _mm_set1_epi8 (rows->decimal);
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

static inline const char *
digest_and_read_row (SbRows *rows, const char *text, const char *end, gpointer steps)
{
  sb_digest_steps_go (steps, text);
  return read_row (rows, text, end, NULL);
}

const char *
sb_plain_windows_row (SbRows *rows, const char *text, const char *end)
{
  return read_row (rows, text, end, NULL);
}

const char *
sb_plain_windows_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines)
{
  if (rows->digest == NULL || !sb_digest_steps_possible ())
    return sb_plain_rows_walk (rows, text, end, n_lines, read_row, NULL);
  SbDigestSteps steps = sb_digest_steps_begin (rows->digest);
  text = sb_plain_rows_walk (rows, text, end, n_lines, digest_and_read_row, &steps);
  sb_digest_steps_end (&steps, rows->digest);
  return text;
}

gboolean
sb_digest_steps_possible (void)
{
  static gsize answer = 0; /* 1: no, 2: yes; asking a processor is slow under a hypervisor */
  if (g_once_init_enter (&answer)) {
    guint a, b, c, d;
    gboolean found = __get_cpuid_count (7, 0, &a, &b, &c, &d) && (b & bit_SHA) != 0;
    g_once_init_leave (&answer, found ? 2 : 1);
  }
  return answer == 2;
}
