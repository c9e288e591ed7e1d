/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "digest.h"

#include <nettle/sha2.h>

struct _SbDigest {
  struct sha256_ctx context;
};

SbDigest *
sb_digest_new (void)
{
  SbDigest *digest = g_new (SbDigest, 1);
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
  sha256_update (&digest->context, n_bytes, (const guint8 *) bytes);
}

void
sb_digest_finish (SbDigest *digest, char hexadecimal[65])
{
  guint8 bytes[SHA256_DIGEST_SIZE];
  sha256_digest (&digest->context, sizeof bytes, bytes);
  for (guint i = 0; i < sizeof bytes; i++)
    g_snprintf (hexadecimal + 2 * i, 3, "%02x", bytes[i]);
}
