/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "digest.h"

#include <nettle/sha2.h>
#include <string.h>

struct _SbDigest {
  struct sha256_ctx context;
  const char *later; /* NULL: nothing is to be taken in later */
  gsize n_later;
};

SbDigest *
sb_digest_new (void)
{
  SbDigest *digest = g_new0 (SbDigest, 1);
  sha256_init (&digest->context);
  return digest;
}

void
sb_digest_free (SbDigest *digest)
{
  g_free (digest);
}

void
sb_digest_add (SbDigest *digest, const char *bytes, gsize n_bytes)
{
  sb_digest_settle (digest);
  sha256_update (&digest->context, n_bytes, (const guint8 *) bytes);
}

static void
take_later (SbDigest *digest, gsize n_bytes)
{
  sha256_update (&digest->context, n_bytes, (const guint8 *) digest->later);
  digest->later += n_bytes;
  digest->n_later -= n_bytes;
}

void
sb_digest_add_later (SbDigest *digest, const char *bytes, gsize n_bytes)
{
  sb_digest_settle (digest);
  digest->later = bytes;
  digest->n_later = n_bytes;
}

void
sb_digest_settle (SbDigest *digest)
{
  if (digest->n_later > 0)
    take_later (digest, digest->n_later);
  digest->later = NULL;
}

/* Bytes up to the next whole block are taken in the usual way first. */
void
sb_digest_blocks_begin (SbDigest *digest, SbDigestBlocks *blocks)
{
  gsize n_begun = digest->context.index;
  if (n_begun > 0 && digest->n_later > 0)
    take_later (digest, MIN (SHA256_BLOCK_SIZE - n_begun, digest->n_later));
  memcpy (blocks->state, digest->context.state, sizeof blocks->state);
  blocks->next = blocks->end = digest->later;
  if (digest->n_later > 0)
    blocks->end += digest->n_later / SHA256_BLOCK_SIZE * SHA256_BLOCK_SIZE;
}

void
sb_digest_blocks_end (SbDigest *digest, const SbDigestBlocks *blocks)
{
  if (blocks->next == digest->later)
    return;
  gsize n_taken = (gsize) (blocks->next - digest->later);
  memcpy (digest->context.state, blocks->state, sizeof blocks->state);
  digest->context.count += n_taken / SHA256_BLOCK_SIZE;
  digest->later += n_taken;
  digest->n_later -= n_taken;
}

void
sb_digest_finish (SbDigest *digest, char hexadecimal[65])
{
  guint8 bytes[SHA256_DIGEST_SIZE];
  sb_digest_settle (digest);
  sha256_digest (&digest->context, sizeof bytes, bytes);
  for (guint i = 0; i < sizeof bytes; i++)
    g_snprintf (hexadecimal + 2 * i, 3, "%02x", bytes[i]);
}
