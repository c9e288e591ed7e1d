/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choices that no session file holds yet, kept on disk so that a crash does not take them. Each piece is a file of its
 * own, NAME.unsaved, with a lock beside it that the process at work holds: the system lets it go when that process
 * ends, however it ends. So whoever gets the lock has found what nobody works on any more. */
#pragma once

#include "analysis.h"

#include <gio/gio.h>

typedef struct {
  char *path;         /* of the file */
  int lock_fd;        /* held by this one alone */
  char *session_path; /* the session that it is the work on; NULL: it has none */
  char *digest;       /* of that session's file when it was opened (session.h); NULL: not known */
  gint64 kept_us;     /* when it was kept, since 1970 */
  guint n_configurations, n_trials;
  char *failure; /* why it cannot be read; NULL: it can. The file stays whatever it holds */
} SbUnsavedWork;

char *sb_unsaved_work_folder (void); /* where the user's is kept; (transfer full) */

/* A new piece in `folder`, without a file so far. NULL with an error in G_FILE_ERROR when the folder cannot be written
 * to. (transfer full) */
SbUnsavedWork *sb_unsaved_work_new (const char *folder, GError **error);

/* Lets the piece go: what is kept of it stays, to be found. */
void sb_unsaved_work_free (SbUnsavedWork *work);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbUnsavedWork, sb_unsaved_work_free)

/* Keeps `bench`, in place of what was kept. `analysis` may be NULL. Atomic and durable. */
gboolean sb_unsaved_work_keep (SbUnsavedWork *work, const SbBench *bench, const SbAnalysis *analysis,
                               const char *session_path, const char *digest, GError **error);

/* Takes away what is kept, if anything is. */
void sb_unsaved_work_forget (SbUnsavedWork *work);

/* What is kept in `folder` and nobody works on, the latest first: SbUnsavedWork, theirs alone until they are freed.
 * (transfer full) */
GPtrArray *sb_unsaved_work_find (const char *folder);

SbBench *sb_unsaved_work_read (const SbUnsavedWork *work, GError **error); /* (transfer full) */
