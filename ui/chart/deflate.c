/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "deflate.h"

#include "prefix_code.h"

#include <isa-l/igzip_lib.h>
#include <string.h>

/* Of RFC 1951. */
#define SHORTEST     3u
#define LONGEST      258u
#define FARTHEST     32768u
#define END_OF_BLOCK 256
#define N_LENGTHS    286
#define N_DISTANCES  30

/* Rows worked on at once: few enough to stay in the processor's cache. */
#define ROWS_PER_BLOCK 16

#define N_TOKENS  32768
#define HASH_BITS 13

/* A stretch as long as this of the row above is taken without looking for a longer one elsewhere. */
#define GOOD_LENGTH 64

struct SbDeflate {
  gsize row_bytes, pixel_bytes;
  guint8 *rows;    /* the row above, then those of the block, then 8 bytes */
  gsize n_rows;    /* of the block */
  gboolean first;  /* there is no row above */
  guint32 *last;   /* by hash: place in `rows` of the bytes that had it last; 0: none */
  guint32 *tokens; /* a literal, or a length << 16 and a distance */
  gsize n_tokens;
  guint32 n_literals[N_LENGTHS], n_distances[N_DISTANCES]; /* how often each symbol occurs among the tokens */
  GByteArray *out;
  guint64 bits; /* not written yet */
  guint n_bits;
  guint32 adler;
};

static void
put (SbDeflate *deflate, guint value, guint n)
{
  deflate->bits |= (guint64) value << deflate->n_bits;
  deflate->n_bits += n;
  if (deflate->n_bits < 32)
    return;
  guint32 word = GUINT32_TO_LE ((guint32) deflate->bits);
  g_byte_array_append (deflate->out, (const guint8 *) &word, sizeof word);
  deflate->bits >>= 32;
  deflate->n_bits -= 32;
}

typedef struct {
  guint symbol, extra, n_extra;
} Part;

static guint
floor_log2 (guint value)
{
  return (guint) g_bit_storage (value) - 1;
}

/* The tables of 3.2.5 in closed form. */
static Part
part_of_length (guint length)
{
  guint l = length - SHORTEST, n = l < 4 ? 0 : floor_log2 (l) - 2;
  if (length == LONGEST)
    return (Part){ 285, 0, 0 };
  return (Part){ 257 + 4 * n + (l >> n), l & ((1u << n) - 1), n };
}

static Part
part_of_distance (guint distance)
{
  guint d = distance - 1, n = d < 2 ? 0 : floor_log2 (d) - 1;
  return (Part){ 2 * n + (d >> n), d & ((1u << n) - 1), n };
}

/* All lengths with codes of four bits: the header is 170 bytes, and no third code has to be found. */
static void
put_header (SbDeflate *deflate, const SbPrefixCode *literals, const SbPrefixCode *distances, gboolean last)
{
  put (deflate, last ? 1 : 0, 1);
  put (deflate, 2, 2);
  put (deflate, N_LENGTHS - 257, 5);
  put (deflate, N_DISTANCES - 1, 5);
  put (deflate, 19 - 4, 4);
  for (guint i = 0; i < 19; i++)
    put (deflate, i < 3 ? 0 : 4, 3); /* the first three are the repetitions, which are not used */
  static const guint8 reversed[16] = { 0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15 };
  for (guint s = 0; s < N_LENGTHS; s++)
    put (deflate, reversed[literals->length[s]], 4);
  for (guint s = 0; s < N_DISTANCES; s++)
    put (deflate, reversed[distances->length[s]], 4);
}

static void
put_symbol (SbDeflate *deflate, const SbPrefixCode *code, guint symbol)
{
  put (deflate, code->bits[symbol], code->length[symbol]);
}

/* Writes what has been found so far as a block of its own. */
static void
put_block (SbDeflate *deflate, gboolean last)
{
  SbPrefixCode literals, distances;
  deflate->n_literals[END_OF_BLOCK]++;
  deflate->n_literals[0]++; /* a code has two symbols at least */
  deflate->n_distances[0]++;
  deflate->n_distances[1]++;
  sb_prefix_code_init (&literals, deflate->n_literals, N_LENGTHS);
  sb_prefix_code_init (&distances, deflate->n_distances, N_DISTANCES);
  put_header (deflate, &literals, &distances, last);
  for (gsize i = 0; i < deflate->n_tokens; i++) {
    guint length = deflate->tokens[i] >> 16, distance = deflate->tokens[i] & 0xffff;
    if (length == 0) {
      put_symbol (deflate, &literals, distance);
      continue;
    }
    Part l = part_of_length (length), d = part_of_distance (distance);
    put_symbol (deflate, &literals, l.symbol);
    put (deflate, l.extra, l.n_extra);
    put_symbol (deflate, &distances, d.symbol);
    put (deflate, d.extra, d.n_extra);
  }
  put_symbol (deflate, &literals, END_OF_BLOCK);
  deflate->n_tokens = 0;
  memset (deflate->n_literals, 0, sizeof deflate->n_literals);
  memset (deflate->n_distances, 0, sizeof deflate->n_distances);
}

static void
add_token (SbDeflate *deflate, guint32 token)
{
  if (deflate->n_tokens == N_TOKENS)
    put_block (deflate, FALSE);
  deflate->tokens[deflate->n_tokens++] = token;
}

static void
add_literal (SbDeflate *deflate, guint8 byte)
{
  add_token (deflate, byte);
  deflate->n_literals[byte]++;
}

static void
add_match (SbDeflate *deflate, gsize length, gsize distance)
{
  while (length > 0) {
    /* What is left over is never shorter than a match can be. */
    guint piece
        = (guint) (length > LONGEST && length < LONGEST + SHORTEST ? LONGEST - SHORTEST : MIN (length, LONGEST));
    add_token (deflate, piece << 16 | (guint32) distance);
    deflate->n_literals[part_of_length (piece).symbol]++;
    deflate->n_distances[part_of_distance ((guint) distance).symbol]++;
    length -= piece;
  }
}

static guint64
read_64 (const guint8 *at)
{
  guint64 value;
  memcpy (&value, at, sizeof value);
  return GUINT64_FROM_LE (value);
}

/* How many bytes from `a` on, `n` at most, are those from `b` on. Reads up to 8 bytes beyond them. */
static gsize
count_same (const guint8 *a, const guint8 *b, gsize n)
{
  for (gsize i = 0; i < n; i += 8) {
    guint64 different = read_64 (a + i) ^ read_64 (b + i);
    if (different != 0)
      return MIN (n, i + (gsize) __builtin_ctzll (different) / 8);
  }
  return n;
}

typedef struct {
  gsize length, distance;
} Match;

static void
try_distance (const guint8 *at, gsize distance, gsize n, Match *best)
{
  gsize same = count_same (at, at - distance, n);
  if (same > best->length)
    *best = (Match){ same, distance };
}

/* The longest of: the row above, the pixel before, where the next four bytes were seen last. */
static Match
find_match (SbDeflate *deflate, gsize at, gsize begin, gsize end)
{
  Match best = { 0, 0 };
  const guint8 *rows = deflate->rows;
  if (at - begin >= deflate->row_bytes && deflate->row_bytes <= FARTHEST)
    try_distance (rows + at, deflate->row_bytes, end - at, &best);
  if (best.length >= GOOD_LENGTH || end - at < 4)
    return best;
  if (at - begin >= deflate->pixel_bytes)
    try_distance (rows + at, deflate->pixel_bytes, end - at, &best);
  guint32 *last = &deflate->last[((guint32) read_64 (rows + at) * 2654435761u) >> (32 - HASH_BITS)];
  if (*last != 0 && at - *last <= FARTHEST)
    try_distance (rows + at, at - *last, end - at, &best);
  *last = (guint32) at;
  return best;
}

static void
compress_block (SbDeflate *deflate)
{
  gsize row = deflate->row_bytes, begin = deflate->first ? row : 0, end = (deflate->n_rows + 1) * row;
  memset (deflate->last, 0, sizeof (guint32) << HASH_BITS);
  deflate->adler = isal_adler32 (deflate->adler, deflate->rows + row, end - row);
  for (gsize at = row; at < end;) {
    Match match = find_match (deflate, at, begin, end);
    if (match.length > SHORTEST) {
      add_match (deflate, match.length, match.distance);
      at += match.length;
    } else {
      add_literal (deflate, deflate->rows[at++]);
    }
  }
  memcpy (deflate->rows, deflate->rows + end - row, row);
  deflate->first = FALSE;
  deflate->n_rows = 0;
}

SbDeflate *
sb_deflate_new (gsize row_bytes, gsize pixel_bytes)
{
  SbDeflate *deflate = g_new0 (SbDeflate, 1);
  deflate->row_bytes = row_bytes;
  deflate->pixel_bytes = pixel_bytes;
  deflate->rows = g_malloc0 (row_bytes * (ROWS_PER_BLOCK + 1) + 8);
  deflate->last = g_new (guint32, 1 << HASH_BITS);
  deflate->tokens = g_new (guint32, N_TOKENS);
  deflate->out = g_byte_array_new ();
  deflate->first = TRUE;
  deflate->adler = 1;
  g_byte_array_append (deflate->out, (const guint8 *) "\x78\x01",
                       2); /* RFC 1950: a window of 32768, the quickest way */
  return deflate;
}

guint8 *
sb_deflate_row (SbDeflate *deflate)
{
  return deflate->rows + (deflate->n_rows + 1) * deflate->row_bytes;
}

void
sb_deflate_push (SbDeflate *deflate)
{
  if (++deflate->n_rows == ROWS_PER_BLOCK)
    compress_block (deflate);
}

GByteArray *
sb_deflate_finish (SbDeflate *deflate)
{
  if (deflate->n_rows > 0)
    compress_block (deflate);
  put_block (deflate, TRUE);
  GByteArray *out = deflate->out;
  for (; deflate->n_bits > 0; deflate->n_bits -= MIN (deflate->n_bits, 8), deflate->bits >>= 8)
    g_byte_array_append (out, &(guint8){ (guint8) deflate->bits }, 1);
  guint32 adler = GUINT32_TO_BE (deflate->adler);
  g_byte_array_append (out, (const guint8 *) &adler, sizeof adler);
  g_free (deflate->rows);
  g_free (deflate->last);
  g_free (deflate->tokens);
  g_free (deflate);
  return out;
}
