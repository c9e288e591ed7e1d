/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look into a folder, in a worker: a folder on a network may take long to answer, or never do. */
#pragma once

#include "file_track.h"

#include <gio/gio.h>

typedef struct {
  char *failure;         /* why the folder cannot be looked into, as a sentence; NULL when it can */
  GHashTable *stamps;    /* char * path -> SbFileStamp *, of what is there */
  GPtrArray *folders;    /* char *: paths of the folders in it, hidden ones apart */
  GFileMonitor *monitor; /* tells the main loop of changes from before this look on; NULL: not asked for, or none */
} SbFolderScan;

void sb_folder_scan_free (SbFolderScan *scan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFolderScan, sb_folder_scan_free)

/* Looks at the files `files` and, when `listed`, at every log and folder in `folder`. */
void sb_folder_scan_async (const char *folder, const char *const *files, gboolean listed, gboolean with_monitor,
                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user_data);
SbFolderScan *sb_folder_scan_finish (GAsyncResult *result); /* (transfer full); NULL when cancelled */
