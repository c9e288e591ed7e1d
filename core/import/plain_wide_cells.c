/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain_wide_cells.h"
#include "number.h"

#include <immintrin.h>

#define N_POWERS 16 /* of ten, from 10^0 on, in two registers */

/* One bit for each of 64 bytes, the lowest for the first; as many bits as there are columns. */
typedef struct {
  guint64 ends;
  guint64 points; /* the decimal sign of a cell, or its end where it has none */
  guint64 starts; /* where its digits begin */
  guint negative; /* one bit for each column */
} Marks;

static inline __m512i
load (const void *from)
{
  return _mm512_loadu_si512 (from);
}

static inline __m512i
to_digits (__m512i bytes)
{
  return _mm512_sub_epi8 (bytes, _mm512_set1_epi8 ('0'));
}

static inline guint64
find_digits (__m512i bytes)
{
  return _mm512_cmplt_epu8_mask (to_digits (bytes), _mm512_set1_epi8 (10));
}

/* FALSE when the cells do not end within the bytes or are of no usual form. */
static inline gboolean
mark (const SbRows *rows, __m512i bytes, Marks *marks)
{
  guint64 points = _mm512_cmpeq_epi8_mask (bytes, _mm512_set1_epi8 (rows->decimal));
  guint64 minus = _mm512_cmpeq_epi8_mask (bytes, _mm512_set1_epi8 ('-'));
  guint64 delimiters = _mm512_cmpeq_epi8_mask (bytes, _mm512_set1_epi8 (rows->delimiter));
  guint64 ends = ~(find_digits (bytes) | points | minus);
  guint64 last = _pdep_u64 (G_GUINT64_CONSTANT (1) << (rows->n_columns - 1), ends);
  if (G_UNLIKELY (last == 0))
    return FALSE;
  guint64 cells = last | (last - 1);
  guint64 starts = (ends << 1 | 1) & cells, signs = minus & starts;
  marks->ends = ends & cells;
  marks->negative = (guint) _pext_u64 (signs, starts);
  marks->starts = starts + signs; /* one further */
  /* Taking a decimal sign from the end of its cell clears the bit of the end. Two in one make a mark too many. */
  points &= cells;
  marks->points = points | ((marks->ends - points) & marks->ends);
  guint64 odd = ((minus & cells) ^ signs) | ((delimiters ^ ends) & (last - 1));
  return odd == 0 && __builtin_popcountll (marks->points) == (int) rows->n_columns;
}

/* Where the bits of `marks` stand, one number in each of 8 lanes. */
static inline __m512i
places (guint64 marks)
{
  static const guint8 counting[64]
      = { 0,  1,  2,  3,  4,  5,  6,  7,  8,  9,  10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21,
          22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43,
          44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57, 58, 59, 60, 61, 62, 63 };
  __m512i bytes = _mm512_maskz_compress_epi8 (marks, load (counting));
  return _mm512_cvtepu8_epi64 (_mm512_castsi512_si128 (bytes));
}

/* The lowest byte of each lane in all bytes of it. */
static inline __m512i
spread (__m512i lanes)
{
  return _mm512_shuffle_epi8 (lanes, _mm512_set4_epi32 (0x08080808, 0x08080808, 0, 0));
}

/* For each byte of each lane, which of the 64 bytes belongs there: digits end at the right, without decimal sign. */
static inline __m512i
arrange (__m512i end, __m512i point, __mmask8 with_point)
{
  const __m512i from_end = _mm512_set1_epi64 ((gint64) 0xfffefdfcfbfaf9f8);
  __m512i place = _mm512_add_epi8 (spread (end), from_end);
  /* A cell without decimal sign has it below all places. */
  __m512i gap = spread (_mm512_mask_mov_epi64 (_mm512_set1_epi8 (-128), with_point, point));
  __mmask64 before = _mm512_cmple_epi8_mask (place, gap);
  return _mm512_mask_add_epi8 (place, before, place, _mm512_set1_epi8 (-1));
}

/* Eight digits in each lane, the most significant first, to a double. */
static inline __m512d
convert (__m512i digits)
{
  __m512i pairs = _mm512_maddubs_epi16 (digits, _mm512_set1_epi16 (1 << 8 | 10));
  __m512i fours = _mm512_madd_epi16 (pairs, _mm512_set1_epi32 (1 << 16 | 100));
  __m512i halves = _mm512_madd_epi16 (fours, _mm512_set1_epi64 (G_GINT64_CONSTANT (1) << 32 | 10000));
  __m512i eights = _mm512_add_epi64 (halves, _mm512_srli_epi64 (halves, 32));
  return _mm512_cvtepu32_pd (_mm512_cvtepi64_epi32 (eights));
}

static inline __m512d
power_of_ten (__m512i exponent)
{
  const double *powers = sb_exact_power_of_ten;
  return _mm512_permutex2var_pd (_mm512_loadu_pd (powers), exponent, _mm512_loadu_pd (powers + SB_WIDE_LANES));
}

const char *
sb_wide_cells_read (const SbRows *rows, SbWideColumns *columns, const char *text)
{
  Marks marks;
  __m512i bytes = load (text);
  if (G_UNLIKELY (!mark (rows, bytes, &marks)))
    return NULL;
  __m512i end = places (marks.ends), start = places (marks.starts), point = places (marks.points);
  __m512i one = _mm512_set1_epi64 (1);
  __mmask8 with_point = _mm512_cmpneq_epi64_mask (point, end);
  __m512i last = _mm512_mask_sub_epi64 (end, with_point, end, one);
  __m512i n_digits = _mm512_sub_epi64 (last, start);
  __m512i exponent = _mm512_sub_epi64 (_mm512_sub_epi64 (last, point), load (columns->power_of_ten));
  __mmask8 usual = _mm512_cmplt_epu64_mask (_mm512_sub_epi64 (n_digits, one), _mm512_set1_epi64 (8))
                   & _mm512_cmplt_epu64_mask (exponent, _mm512_set1_epi64 (N_POWERS));

  __mmask64 wanted = _mm512_cmpgt_epu8_mask (spread (n_digits), _mm512_set1_epi64 (0x0001020304050607));
  __m512i digits = _mm512_maskz_permutexvar_epi8 (wanted, arrange (end, point, with_point), to_digits (bytes));
  __m512d value = _mm512_div_pd (convert (digits), power_of_ten (exponent));
  value = _mm512_mask_or_pd (value, (__mmask8) marks.negative, value, _mm512_set1_pd (-0.0));
  value = _mm512_mul_pd (value, _mm512_loadu_pd (columns->factor));
  usual &= _mm512_cmp_pd_mask (_mm512_abs_pd (value), _mm512_set1_pd (SB_LARGEST_VALUE), _CMP_LE_OQ);
  _mm512_storeu_pd (columns->values, value);
  guint cells = (1U << rows->n_columns) - 1;
  return (usual & cells) == cells ? text + 63 - __builtin_clzll (marks.ends) : NULL;
}
