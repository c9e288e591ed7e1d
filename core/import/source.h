/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the bytes of a log come from: a file or memory, plain or compressed with gzip (told by its first bytes, not by
 * its name). The digest is that of the bytes as stored. Not shared between threads. */
#pragma once

#include "digest.h"

#include <gio/gio.h>

typedef struct SbSource SbSource;

/* Both NULL with SB_LOG_ERROR_OPEN. `bytes` must outlive the source. */
SbSource *sb_source_open (const char *path, GError **error);
SbSource *sb_source_new_memory (const char *name, const char *bytes, gsize n_bytes);
void sb_source_free (SbSource *source);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSource, sb_source_free)

/* Up to `n_wanted` bytes, unpacked; 0 at the end; -1 with SB_LOG_ERROR_OPEN, _NOT_A_LOG (damaged) or
 * G_IO_ERROR_CANCELLED. */
gssize sb_source_read (SbSource *source, char *bytes, gsize n_wanted, GCancellable *cancellable, GError **error);

/* From now on bytes that are not unpacked are digested as the caller goes through them: sb_digest_add_later was called
 * for what is read, and the caller settles it before the bytes are moved. Owned by the source. */
SbDigest *sb_source_digest_later (SbSource *source);

/* The bytes read first come again without being read again. Only for all that was read so far. */
void sb_source_put_back (SbSource *source, const char *bytes, gsize n_bytes);

/* Back to the first byte. */
gboolean sb_source_rewind (SbSource *source, GError **error);

guint64 sb_source_size (const SbSource *source);    /* as stored */
double sb_source_fraction (const SbSource *source); /* how much of it has been read, 0..1 */
gboolean sb_source_is_packed (const SbSource *source);

/* Lower-case hexadecimal of the bytes as stored, once the end was reached; asked for once. */
void sb_source_digest (SbSource *source, char hexadecimal[65]);
