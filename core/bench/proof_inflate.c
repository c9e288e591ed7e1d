/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_inflate.h"

#define ZLIB_CONST /* what is read stays as it is */
#include <zlib.h>

/* More than the proof of ten thousand logs; a few bytes can ask for a thousand times their own size. */
#define LARGEST_BYTES ((gsize) 8 << 20)

#define STEP_BYTES ((gsize) 64 << 10)

/* Goes on until the packed bytes say that they end. FALSE: they do not, or the text is too long. */
static gboolean
inflate_all (z_stream *stream, GByteArray *text)
{
  int status = Z_OK;
  while (status == Z_OK && text->len < LARGEST_BYTES) {
    guint had = text->len;
    g_byte_array_set_size (text, had + STEP_BYTES);
    stream->next_out = text->data + had;
    stream->avail_out = STEP_BYTES;
    status = inflate (stream, Z_NO_FLUSH);
    g_byte_array_set_size (text, had + (guint) (STEP_BYTES - stream->avail_out));
  }
  return status == Z_STREAM_END;
}

char *
sb_proof_inflate (const char *bytes, gsize n_bytes)
{
  z_stream stream = { .next_in = (const Bytef *) bytes, .avail_in = (uInt) n_bytes };
  if (n_bytes > G_MAXUINT32 || inflateInit (&stream) != Z_OK)
    return NULL;
  g_autoptr (GByteArray) text = g_byte_array_new ();
  gboolean is_whole = inflate_all (&stream, text);
  inflateEnd (&stream);
  if (!is_whole)
    return NULL;
  g_byte_array_append (text, (const guint8 *) "", 1);
  return (char *) g_byte_array_free (g_steal_pointer (&text), FALSE);
}
