/* SPDX-License-Identifier: GPL-3.0-or-later */
/* PNG specification, second edition: a tEXt chunk, or one of the three kinds of text, packed or not, when another
 * program wrote the picture anew. */
#include "proof_carriers.h"
#include "proof_file.h"
#include "proof_inflate.h"

#include <string.h>

#define SIGNATURE_LENGTH 8
#define FRAME            12 /* of a chunk: length, type, checksum */

typedef struct {
  const char *type, *data;
  gsize length;
  guint32 checksum;
} Chunk;

static guint32
read_32 (const char *bytes)
{
  guint32 value;
  memcpy (&value, bytes, sizeof value);
  return GUINT32_FROM_BE (value);
}

/* ISO 3309, as annex D of the specification has it. */
static guint32
checksum_of (const char *bytes, gsize n_bytes)
{
  guint32 crc = 0xffffffff;
  for (gsize i = 0; i < n_bytes; i++) {
    crc ^= (guint8) bytes[i];
    for (int bit = 0; bit < 8; bit++)
      crc = crc & 1 ? crc >> 1 ^ 0xedb88320 : crc >> 1;
  }
  return ~crc;
}

/* The chunk at `at`; FALSE when it does not end within the file. */
static gboolean
read_chunk (const char *bytes, gsize n_bytes, gsize at, Chunk *chunk)
{
  if (n_bytes - at < FRAME)
    return FALSE;
  chunk->length = read_32 (bytes + at);
  if (chunk->length > n_bytes - at - FRAME)
    return FALSE;
  chunk->type = bytes + at + 4;
  chunk->data = bytes + at + 8;
  chunk->checksum = read_32 (chunk->data + chunk->length);
  return TRUE;
}

/* Where the text of an iTXt chunk begins, `after` its keyword and whether and how it is packed (11.3.4.5): behind the
 * language and the keyword in that language. NULL: the chunk ends before. */
static const char *
international_text (const char *after, const char *end)
{
  const char *language_end = after < end ? memchr (after, '\0', (gsize) (end - after)) : NULL;
  const char *keyword_end
      = language_end != NULL ? memchr (language_end + 1, '\0', (gsize) (end - language_end - 1)) : NULL;
  return keyword_end != NULL ? keyword_end + 1 : NULL;
}

static gboolean
is_kind (const Chunk *chunk, const char *kind)
{
  return memcmp (chunk->type, kind, 4) == 0;
}

static gboolean
is_ours (const Chunk *chunk)
{
  gboolean is_text = is_kind (chunk, "iTXt") || is_kind (chunk, "tEXt") || is_kind (chunk, "zTXt");
  return is_text && chunk->length >= sizeof SB_PROOF_PNG_KEYWORD
         && memcmp (chunk->data, SB_PROOF_PNG_KEYWORD, sizeof SB_PROOF_PNG_KEYWORD) == 0;
}

/* The text behind the keyword, unpacked. The one method of packing is 0. (transfer full) */
static char *
unpack_text (const Chunk *chunk)
{
  const char *text = chunk->data + sizeof SB_PROOF_PNG_KEYWORD, *end = chunk->data + chunk->length;
  gboolean packed = is_kind (chunk, "zTXt");
  int method = 0;
  if (is_kind (chunk, "iTXt") && end - text >= 2) {
    packed = text[0] != 0;
    method = packed ? text[1] : 0;
    text = international_text (text + 2, end);
  } else if (packed && end - text >= 1) {
    method = *text++;
  } else if (!is_kind (chunk, "tEXt")) {
    return NULL;
  }
  if (text == NULL || method != 0)
    return NULL;
  return packed ? sb_proof_inflate (text, (gsize) (end - text)) : g_strndup (text, (gsize) (end - text));
}

static char *
take_text (const Chunk *chunk, GError **error)
{
  gboolean is_whole = checksum_of (chunk->type, chunk->length + 4) == chunk->checksum;
  char *text = is_whole ? unpack_text (chunk) : NULL;
  if (text == NULL)
    g_set_error (error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED, "the part of the picture that holds its proof %s",
                 is_whole ? "cannot be unpacked" : "is damaged: its checksum does not fit");
  return text;
}

char *
sb_proof_from_png (const char *bytes, gsize n_bytes, GError **error)
{
  Chunk chunk;
  for (gsize at = SIGNATURE_LENGTH; at < n_bytes && read_chunk (bytes, n_bytes, at, &chunk); at += FRAME + chunk.length)
    if (is_ours (&chunk))
      return take_text (&chunk, error);
  return NULL;
}
