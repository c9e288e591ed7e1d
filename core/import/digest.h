/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SHA-256 (FIPS 180-4) of a file as it goes by. */
#pragma once

#include <glib.h>

typedef struct _SbDigest SbDigest;

SbDigest *sb_digest_new (void);
void sb_digest_free (SbDigest *digest);
void sb_digest_add (SbDigest *digest, const char *bytes, gsize n_bytes);

/* The same, but not at once: who reads these bytes may take in blocks of them meanwhile. They must stay where they are
 * until sb_digest_settle. */
void sb_digest_add_later (SbDigest *digest, const char *bytes, gsize n_bytes);

/* Takes in what is left of them. */
void sb_digest_settle (SbDigest *digest);

#define SB_DIGEST_BLOCK 64

/* Whole blocks of the bytes that are still to be taken in, and the state of SHA-256 before the next one. */
typedef struct {
  guint32 state[8];
  const char *next, *end;
} SbDigestBlocks;

/* Lends them to digest_steps.h, and takes back what came of them; nothing else may be asked of the digest between. */
void sb_digest_blocks_begin (SbDigest *digest, SbDigestBlocks *blocks);
void sb_digest_blocks_end (SbDigest *digest, const SbDigestBlocks *blocks);

/* Lower-case hexadecimal with a NUL. The digest can only be freed afterwards. */
void sb_digest_finish (SbDigest *digest, char hexadecimal[65]);
