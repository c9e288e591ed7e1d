/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps results up with the choices: reads logs and computes in workers, never on the main loop. A run that is out
 * of date is cancelled and replaced. While logs are still being read, results of what is there already come in between,
 * so that the first curve need not wait for the last log.
 *
 * Signals, on the main loop:
 *   "results" (gpointer SbAnalysis *, gboolean complete)
 *   "progress" ()                       see sb_loader_progress()
 *   "stopped" ()                        a run ended by sb_loader_stop() */
#pragma once

#include "analysis.h"

#define SB_TYPE_LOADER (sb_loader_get_type ())
G_DECLARE_FINAL_TYPE (SbLoader, sb_loader, SB, LOADER, GObject)

SbLoader *sb_loader_new (void);

/* Begins to work out `bench`, in place of what was being worked out. */
void sb_loader_analyse (SbLoader *loader, SbBench *bench);

/* The log at `path` is no longer what was read: the next analysis reads it. */
void sb_loader_forget (SbLoader *loader, const char *path);

/* Ends the running work at a person's wish; what has been read stays in the cache. */
void sb_loader_stop (SbLoader *loader);

/* The same without the signal: the owner goes away. */
void sb_loader_abandon (SbLoader *loader);

/* FALSE when nothing runs. `n_done` of `n_total` logs are read; n_total is 0 until known. */
gboolean sb_loader_progress (SbLoader *loader, gsize *n_done, gsize *n_total);

/* Adds `paths` to a copy of `bench` in a worker; for folders can be slow. */
void sb_loader_add_async (SbLoader *loader, SbBench *bench, const char *const *paths, GCancellable *cancellable,
                          GAsyncReadyCallback callback, gpointer user_data);

/* The bench with what could be added (NULL when nothing could), and the error of what could not; both may be set.
 * (transfer full) */
SbBench *sb_loader_add_finish (GAsyncResult *result, GError **error);
