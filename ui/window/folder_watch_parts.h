/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the watch and its looks share: folder_watch.c knows what is needed, folder_look.c looks into one folder after
 * the other. For these two files only. */
#pragma once

#include "file_track.h"
#include "folder_watch.h"

/* One folder that is looked into. */
typedef struct {
  char *path;
  char *opened;      /* what it was opened with; NULL: none of its files join */
  gboolean descend;  /* folders in it may become configurations */
  gboolean prospect; /* such a folder, without a configuration so far */
  gboolean needed;   /* by the bench followed */
  GPtrArray *logs;   /* char *, borrowed from `opened_logs`: the opened ones in it */
  GFileMonitor *monitor;
  gulong monitor_handler;
  guint look_source;
  gint64 look_due_us;
  gboolean looking, look_again;
  gint64 failing_since_us; /* 0: it is not */
  char *failure;           /* told; NULL: none */
} SbWatchedFolder;

struct _SbFolderWatch {
  GObject parent_instance;
  guint settle_ms, look_ms;
  SbBench *bench;
  GHashTable *folders;     /* path -> SbWatchedFolder */
  GHashTable *tracks;      /* path -> SbFileTrack */
  GHashTable *opened_logs; /* path -> gint64 *: when it was opened, since 1970 */
  GHashTable *seen;        /* paths of logs and folders that need not be told any more */
  guint missing_source;
  GCancellable *cancellable;
};

/* The folder of this path, followed from now on. */
SbWatchedFolder *sb_folder_watch_folder_at (SbFolderWatch *watch, const char *path);
void sb_watched_folder_free (gpointer folder);

/* The path need not be told any more. */
void sb_folder_watch_note_seen (SbFolderWatch *watch, const char *path);

/* Once for all folders of a disk that goes. */
void sb_folder_watch_tell_missing (SbFolderWatch *watch);

/* Sees to it that the folder is looked into no later than `delay_ms` from now. */
void sb_folder_watch_look_within (SbFolderWatch *watch, SbWatchedFolder *folder, guint delay_ms);

/* A burst of changes is looked at once. */
#define SB_WATCH_EVENT_DELAY_MS 100
