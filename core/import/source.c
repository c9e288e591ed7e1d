/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "source.h"

#include "digest.h"
#include "log.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PACKED_BLOCK ((gsize) 1 << 16)

struct SbSource {
  char *name; /* for messages */
  int fd;     /* -1: from memory */
  const char *memory;
  guint64 size, position; /* of the stored bytes */

  SbDigest *digest;
  guint64 n_digested;
  gboolean digests_later;

  GConverter *unpacker; /* NULL: the bytes are plain */
  char *packed;         /* read and not yet unpacked, ... */
  gsize packed_at, packed_end;
  gboolean member_ended; /* ... where another gzip member may follow */

  GByteArray *put_back;
  gsize n_given; /* of put_back */
};

static gboolean
fail_to_open (const char *name, const char *why, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_OPEN, "%s: %s.", name, why);
  return FALSE;
}

static gboolean
fail_by_errno (const char *name, int number, GError **error)
{
  switch (number) {
  case ENOENT:
  case ENOTDIR:
    return fail_to_open (name, "there is no such file. Check the name and the folder", error);
  case EACCES:
  case EPERM:
    return fail_to_open (name, "you may not read this file. Ask its owner for permission or copy it", error);
  default: {
    g_autofree char *why
        = g_strdup_printf ("the file cannot be read (%s). Copy it to this computer and try again", g_strerror (number));
    return fail_to_open (name, why, error);
  }
  }
}

static gboolean
open_regular (SbSource *source, const char *path, GError **error)
{
  struct stat facts;
  /* Opening a pipe nobody writes to must not wait. */
  source->fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (source->fd < 0 || fstat (source->fd, &facts) < 0)
    return fail_by_errno (source->name, errno, error);
  if (S_ISDIR (facts.st_mode))
    return fail_to_open (source->name, "this is a folder. Choose a log file in it", error);
  if (!S_ISREG (facts.st_mode))
    return fail_to_open (source->name, "this is no ordinary file. Save the log to a file first", error);
  source->size = (guint64) facts.st_size;
  return TRUE;
}

/* Stored bytes; -1 on error. What is read again is not digested again. */
static gssize
read_stored (SbSource *source, char *bytes, gsize n_wanted, GError **error)
{
  gssize n;
  if (source->fd < 0) {
    n = (gssize) MIN (n_wanted, source->size - source->position);
    /* There may be no memory where there are no bytes. */
    if (n > 0)
      memcpy (bytes, source->memory + source->position, (gsize) n);
  } else {
    do
      n = read (source->fd, bytes, n_wanted);
    while (n < 0 && errno == EINTR);
    if (n < 0) {
      fail_by_errno (source->name, errno, error);
      return -1;
    }
  }
  guint64 end = source->position + (guint64) n;
  if (end > source->n_digested) {
    gsize n_old = (gsize) (source->n_digested - source->position);
    (source->digests_later ? sb_digest_add_later : sb_digest_add) (source->digest, bytes + n_old, (gsize) n - n_old);
    source->n_digested = end;
  }
  source->position = end;
  return n;
}

static gboolean
begins_packed (const char *bytes, gsize n_bytes)
{
  return n_bytes >= 3 && memcmp (bytes, "\x1f\x8b\x08", 3) == 0;
}

/* Looks at the first bytes, which come again. */
static gboolean
find_packing (SbSource *source, GError **error)
{
  char first[3];
  gssize n = read_stored (source, first, sizeof first, error);
  if (n < 0)
    return FALSE;
  if (begins_packed (first, (gsize) n)) {
    source->unpacker = G_CONVERTER (g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP));
    source->packed = g_malloc (PACKED_BLOCK);
  }
  return sb_source_rewind (source, error);
}

static SbSource *
new_source (char *name)
{
  SbSource *source = g_new0 (SbSource, 1);
  source->name = name;
  source->fd = -1;
  source->digest = sb_digest_new ();
  source->put_back = g_byte_array_new ();
  return source;
}

SbSource *
sb_source_open (const char *path, GError **error)
{
  g_autoptr (SbSource) source = new_source (g_filename_display_name (path));
  if (!open_regular (source, path, error) || !find_packing (source, error))
    return NULL;
  return g_steal_pointer (&source);
}

SbSource *
sb_source_new_memory (const char *name, const char *bytes, gsize n_bytes)
{
  SbSource *source = new_source (g_strdup (name));
  source->memory = bytes;
  source->size = n_bytes;
  find_packing (source, NULL);
  return source;
}

void
sb_source_free (SbSource *source)
{
  if (source == NULL)
    return;
  if (source->fd >= 0)
    close (source->fd);
  g_clear_object (&source->unpacker);
  g_byte_array_unref (source->put_back);
  sb_digest_free (source->digest);
  g_free (source->packed);
  g_free (source->name);
  g_free (source);
}

static gssize
fail_as_damaged (const SbSource *source, const char *why, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG, "%s: the compressed file %s. Copy or compress it again.",
               source->name, why);
  return -1;
}

/* Fills the room for packed bytes; how many there are at the moment, -1 on error. */
static gssize
fill_packed (SbSource *source, GError **error)
{
  gsize n_left = source->packed_end - source->packed_at;
  if (n_left > 0)
    memmove (source->packed, source->packed + source->packed_at, n_left);
  gssize n = read_stored (source, source->packed + n_left, PACKED_BLOCK - n_left, error);
  source->packed_at = 0;
  source->packed_end = n_left + (n > 0 ? (gsize) n : 0);
  return n < 0 ? -1 : (gssize) source->packed_end;
}

/* Behind a member there may be another one; anything else there is no part of the text (padding of a tape). */
static gboolean
begin_member (SbSource *source, GError **error)
{
  if (source->packed_end - source->packed_at < 3 && fill_packed (source, error) < 0)
    return FALSE;
  source->member_ended = !begins_packed (source->packed + source->packed_at, source->packed_end - source->packed_at);
  if (!source->member_ended)
    g_converter_reset (source->unpacker);
  return TRUE;
}

static gssize
finish_stored (SbSource *source, GError **error)
{
  gssize n;
  do
    n = read_stored (source, source->packed, PACKED_BLOCK, error);
  while (n > 0);
  return n;
}

static gssize
read_unpacked (SbSource *source, char *bytes, gsize n_wanted, GError **error)
{
  for (;;) {
    gsize n_read = 0, n_written = 0;
    g_autoptr (GError) problem = NULL;
    if (source->member_ended && !begin_member (source, error))
      return -1;
    if (source->member_ended)
      return finish_stored (source, error);
    if (source->packed_at == source->packed_end && fill_packed (source, error) < 0)
      return -1;
    gboolean at_end = source->packed_at == source->packed_end;
    GConverterResult result = g_converter_convert (
        source->unpacker, source->packed + source->packed_at, source->packed_end - source->packed_at, bytes, n_wanted,
        at_end ? G_CONVERTER_INPUT_AT_END : G_CONVERTER_NO_FLAGS, &n_read, &n_written, &problem);
    if (result == G_CONVERTER_ERROR && (at_end || !g_error_matches (problem, G_IO_ERROR, G_IO_ERROR_PARTIAL_INPUT)))
      return fail_as_damaged (source, at_end ? "ends too early" : "is damaged", error);
    source->packed_at += n_read;
    source->member_ended = result == G_CONVERTER_FINISHED;
    if (result == G_CONVERTER_ERROR && fill_packed (source, error) < 0)
      return -1;
    if (n_written > 0)
      return (gssize) n_written;
  }
}

gssize
sb_source_read (SbSource *source, char *bytes, gsize n_wanted, GCancellable *cancellable, GError **error)
{
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return -1;
  gsize n_kept = MIN (source->put_back->len - source->n_given, n_wanted);
  if (n_kept > 0) {
    memcpy (bytes, source->put_back->data + source->n_given, n_kept);
    source->n_given += n_kept;
  }
  if (n_kept == n_wanted)
    return (gssize) n_kept;
  /* Goes on in the same block: a short first one would make the reader's room grow. */
  gssize n = source->unpacker != NULL ? read_unpacked (source, bytes + n_kept, n_wanted - n_kept, error)
                                      : read_stored (source, bytes + n_kept, n_wanted - n_kept, error);
  return n < 0 ? n : (gssize) n_kept + n;
}

SbDigest *
sb_source_digest_later (SbSource *source)
{
  source->digests_later = source->unpacker == NULL;
  return source->digest;
}

void
sb_source_put_back (SbSource *source, const char *bytes, gsize n_bytes)
{
  g_byte_array_set_size (source->put_back, 0);
  g_byte_array_append (source->put_back, (const guint8 *) bytes, (guint) n_bytes);
  source->n_given = 0;
}

gboolean
sb_source_rewind (SbSource *source, GError **error)
{
  if (source->fd >= 0 && lseek (source->fd, 0, SEEK_SET) < 0)
    return fail_by_errno (source->name, errno, error);
  source->position = 0;
  source->packed_at = source->packed_end = 0;
  source->member_ended = FALSE;
  if (source->unpacker != NULL)
    g_converter_reset (source->unpacker);
  g_byte_array_set_size (source->put_back, 0);
  source->n_given = 0;
  return TRUE;
}

guint64
sb_source_size (const SbSource *source)
{
  return source->size;
}

double
sb_source_fraction (const SbSource *source)
{
  return source->size > 0 ? MIN ((double) source->position / (double) source->size, 1.0) : 1.0;
}

gboolean
sb_source_is_packed (const SbSource *source)
{
  return source->unpacker != NULL;
}

void
sb_source_digest (SbSource *source, char hexadecimal[65])
{
  sb_digest_finish (source->digest, hexadecimal);
}
