/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sessions read and written off the main loop. */
#pragma once

#include "analysis.h"

#include <gio/gio.h>

/* A session file, and what is or was in it. */
typedef struct {
  SbBench *bench;      /* read, or the one that it is written of */
  SbBench *written;    /* the same with what is passed over; NULL when read */
  SbAnalysis *results; /* for the checksums of logs; may be NULL */
  char *path;
  char *expected; /* digest of the file that may be written over (session.h); NULL: of any */
  char *digest;   /* of the file as it is now */
} SbSessionIo;

void sb_session_io_free (SbSessionIo *io);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSessionIo, sb_session_io_free)

void sb_session_io_read_async (GObject *owner, const char *path, GCancellable *cancellable,
                               GAsyncReadyCallback callback, gpointer user_data);

/* Takes over `io`. */
void sb_session_io_write_async (GObject *owner, SbSessionIo *io, GAsyncReadyCallback callback, gpointer user_data);

/* What was read or written, borrowed from the result; NULL with an error. */
const SbSessionIo *sb_session_io_finish (GAsyncResult *result, GError **error);
