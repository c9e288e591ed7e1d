/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SHA-256 (FIPS 180-4) by the processor's SHA instructions, block by block as rows are read (plain_windows.c,
 * plain_wide.c): each round waits for the one before, and the processor reads numbers meanwhile. */
#pragma once

#include "digest.h"

#include <immintrin.h>

/* The first 32 bits behind the point of the cube roots of the first 64 primes. */
static const guint32 sb_digest_constants[64] = {
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
};

typedef struct {
  SbDigestBlocks blocks;
  __m128i abef, cdgh; /* the state in the order that the instructions want */
} SbDigestSteps;

static inline __m128i
sb_digest_load (const void *bytes)
{
  return _mm_loadu_si128 (bytes);
}

/* Four rounds with four words of the message. */
static inline void
sb_digest_steps_four (SbDigestSteps *steps, __m128i words, const guint32 *constants)
{
  __m128i sum = _mm_add_epi32 (words, sb_digest_load (constants));
  steps->cdgh = _mm_sha256rnds2_epu32 (steps->cdgh, steps->abef, sum);
  steps->abef = _mm_sha256rnds2_epu32 (steps->abef, steps->cdgh, _mm_shuffle_epi32 (sum, 0x0e));
}

/* The words that take the place of `first`, 16 rounds later. */
static inline __m128i
sb_digest_words (__m128i first, __m128i second, __m128i third, __m128i fourth)
{
  __m128i sum = _mm_add_epi32 (_mm_sha256msg1_epu32 (first, second), _mm_alignr_epi8 (fourth, third, 4));
  return _mm_sha256msg2_epu32 (sum, fourth);
}

static inline void
sb_digest_steps_block (SbDigestSteps *steps)
{
  const __m128i big_endian = _mm_set_epi64x (0x0c0d0e0f08090a0b, 0x0405060700010203);
  const char *text = steps->blocks.next;
  __m128i abef = steps->abef, cdgh = steps->cdgh;
  __m128i a = _mm_shuffle_epi8 (sb_digest_load (text), big_endian);
  __m128i b = _mm_shuffle_epi8 (sb_digest_load (text + 16), big_endian);
  __m128i c = _mm_shuffle_epi8 (sb_digest_load (text + 32), big_endian);
  __m128i d = _mm_shuffle_epi8 (sb_digest_load (text + 48), big_endian);
  for (const guint32 *constants = sb_digest_constants;; constants += 16) {
    sb_digest_steps_four (steps, a, constants);
    sb_digest_steps_four (steps, b, constants + 4);
    sb_digest_steps_four (steps, c, constants + 8);
    sb_digest_steps_four (steps, d, constants + 12);
    if (constants == sb_digest_constants + 48)
      break;
    a = sb_digest_words (a, b, c, d);
    b = sb_digest_words (b, c, d, a);
    c = sb_digest_words (c, d, a, b);
    d = sb_digest_words (d, a, b, c);
  }
  steps->abef = _mm_add_epi32 (steps->abef, abef);
  steps->cdgh = _mm_add_epi32 (steps->cdgh, cdgh);
  steps->blocks.next += SB_DIGEST_BLOCK;
}

/* The blocks up to `text`, which stands among the bytes that wait for it. */
static inline void
sb_digest_steps_go (SbDigestSteps *steps, const char *text)
{
  while (steps->blocks.next != steps->blocks.end && text - steps->blocks.next >= SB_DIGEST_BLOCK)
    sb_digest_steps_block (steps);
}

/* The state is written A to H, and wanted as ABEF and CDGH with the first in the highest place. `digest` may be NULL:
 * there is nothing to take in. */
static inline SbDigestSteps
sb_digest_steps_begin (SbDigest *digest)
{
  SbDigestSteps steps = { 0 };
  if (digest == NULL)
    return steps;
  sb_digest_blocks_begin (digest, &steps.blocks);
  __m128i badc = _mm_shuffle_epi32 (sb_digest_load (steps.blocks.state), 0xb1);
  __m128i hgfe = _mm_shuffle_epi32 (sb_digest_load (steps.blocks.state + 4), 0x1b);
  steps.abef = _mm_alignr_epi8 (badc, hgfe, 8);
  steps.cdgh = _mm_blend_epi16 (hgfe, badc, 0xf0);
  return steps;
}

static inline void
sb_digest_steps_end (SbDigestSteps *steps, SbDigest *digest)
{
  if (digest == NULL)
    return;
  __m128i feba = _mm_shuffle_epi32 (steps->abef, 0x1b), dchg = _mm_shuffle_epi32 (steps->cdgh, 0xb1);
  guint32 *state = steps->blocks.state;
  _mm_storeu_si128 ((__m128i *) (void *) state, _mm_blend_epi16 (feba, dchg, 0xf0));
  _mm_storeu_si128 ((__m128i *) (void *) (state + 4), _mm_alignr_epi8 (dchg, feba, 8));
  sb_digest_blocks_end (digest, &steps->blocks);
}
