/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder_watch_parts.h"

#include "folder_scan.h"
#include "path_order.h"

#include <string.h>

/* Every folder that is watched costs the system a little; beside a heap of folders without logs these are enough. */
#define MOST_FOLDERS 256

static void
folder_drop_monitor (SbWatchedFolder *folder)
{
  if (folder->monitor == NULL)
    return;
  g_signal_handler_disconnect (folder->monitor, folder->monitor_handler);
  g_file_monitor_cancel (folder->monitor);
  g_clear_object (&folder->monitor);
}

void
sb_watched_folder_free (gpointer data)
{
  SbWatchedFolder *folder = data;
  folder_drop_monitor (folder);
  g_clear_handle_id (&folder->look_source, g_source_remove);
  g_ptr_array_unref (folder->logs);
  g_free (folder->path);
  g_free (folder->opened);
  g_free (folder->failure);
  g_free (folder);
}

static SbFileTrack *
track_of (SbFolderWatch *watch, const char *path)
{
  return g_hash_table_lookup (watch->tracks, path);
}

static SbFileTrack *
begin_track (SbFolderWatch *watch, const char *path, SbFileTrack track)
{
  SbFileTrack *own = g_memdup2 (&track, sizeof track);
  g_hash_table_replace (watch->tracks, g_strdup (path), own);
  return own;
}

static gboolean
is_candidate (SbFolderWatch *watch, const char *path)
{
  return !g_hash_table_contains (watch->opened_logs, path) && !g_hash_table_contains (watch->seen, path);
}

static SbFileStamp
stamp_of (const SbFolderScan *scan, const char *path)
{
  const SbFileStamp *stamp = g_hash_table_lookup (scan->stamps, path);
  return stamp != NULL ? *stamp : SB_FILE_STAMP_ABSENT;
}

/* Looks at one opened log. TRUE when it should be looked at again soon. */
static gboolean
look_at_opened (SbFolderWatch *watch, const char *path, SbFileStamp stamp, GStrvBuilder *changed, gboolean *missing)
{
  gint64 now = g_get_monotonic_time ();
  const gint64 *opened_us = g_hash_table_lookup (watch->opened_logs, path);
  SbFileTrack *track = track_of (watch, path);
  if (track == NULL)
    track = begin_track (watch, path, sb_file_track_opened (stamp, *opened_us, now));
  switch (sb_file_track_look (track, stamp, now, watch->settle_ms * G_TIME_SPAN_MILLISECOND)) {
  case SB_FILE_NEW:
  case SB_FILE_CHANGED:
    g_strv_builder_add (changed, path);
    *missing = TRUE; /* it may have been gone */
    break;
  case SB_FILE_GONE:
  case SB_FILE_BACK:
    *missing = TRUE;
    break;
  case SB_FILE_AS_BEFORE:
    break;
  }
  return sb_file_track_is_settling (track);
}

static gboolean
look_at_opened_logs (SbFolderWatch *watch, SbWatchedFolder *folder, const SbFolderScan *scan)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  gboolean settling = FALSE, missing = FALSE;
  for (guint i = 0; i < folder->logs->len; i++) {
    const char *path = g_ptr_array_index (folder->logs, i);
    settling = look_at_opened (watch, path, stamp_of (scan, path), builder, &missing) || settling;
  }
  g_auto (GStrv) changed = g_strv_builder_end (builder);
  if (missing)
    sb_folder_watch_tell_missing (watch);
  if (changed[0] != NULL)
    g_signal_emit_by_name (watch, "changed", changed);
  return settling;
}

/* Logs in a folder that are not opened and stand still. TRUE when others do not yet. */
static gboolean
collect_ready (SbFolderWatch *watch, const SbFolderScan *scan, GPtrArray *ready)
{
  gboolean settling = FALSE;
  GHashTableIter iter;
  gpointer path, stamp;
  g_hash_table_iter_init (&iter, scan->stamps);
  while (g_hash_table_iter_next (&iter, &path, &stamp)) {
    if (!is_candidate (watch, path))
      continue;
    SbFileTrack *track = track_of (watch, path);
    if (track == NULL)
      track = begin_track (watch, path, sb_file_track_new ());
    sb_file_track_look (track, *(const SbFileStamp *) stamp, g_get_monotonic_time (),
                        watch->settle_ms * G_TIME_SPAN_MILLISECOND);
    if (sb_file_track_is_settling (track))
      settling = TRUE;
    else if (track->read.size_bytes >= 0)
      g_ptr_array_add (ready, path);
  }
  g_ptr_array_sort (ready, sb_path_order_natural);
  return settling;
}

/* A new folder of logs is told whole: it waits for the last of its logs. */
static gboolean
look_for_new_logs (SbFolderWatch *watch, SbWatchedFolder *folder, const SbFolderScan *scan)
{
  g_autoptr (GPtrArray) ready = g_ptr_array_new ();
  gboolean settling = collect_ready (watch, scan, ready);
  gboolean has_configuration = g_hash_table_contains (watch->seen, folder->path);
  if (ready->len == 0 || (settling && !has_configuration))
    return settling;
  for (guint i = 0; i < ready->len; i++)
    sb_folder_watch_note_seen (watch, g_ptr_array_index (ready, i));
  g_ptr_array_add (ready, NULL);
  g_signal_emit_by_name (watch, "found", folder->path, folder->opened, ready->pdata);
  return settling;
}

static void
look_for_new_folders (SbFolderWatch *watch, const SbWatchedFolder *opened, const SbFolderScan *scan)
{
  for (guint i = 0; i < scan->folders->len; i++) {
    const char *path = g_ptr_array_index (scan->folders, i);
    if (g_hash_table_contains (watch->folders, path) || g_hash_table_contains (watch->seen, path)
        || g_hash_table_size (watch->folders) >= MOST_FOLDERS)
      continue;
    SbWatchedFolder *folder = sb_folder_watch_folder_at (watch, path);
    folder->prospect = TRUE;
    folder->opened = g_strdup (opened->path);
    sb_folder_watch_look_within (watch, folder, 0);
  }
}

static void
on_monitor_changed (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, SbFolderWatch *watch)
{
  SbWatchedFolder *folder = g_hash_table_lookup (watch->folders, g_object_get_data (G_OBJECT (monitor), "folder"));
  if (folder != NULL)
    sb_folder_watch_look_within (watch, folder, SB_WATCH_EVENT_DELAY_MS);
}

static void
take_monitor (SbFolderWatch *watch, SbWatchedFolder *folder, SbFolderScan *scan)
{
  folder_drop_monitor (folder);
  folder->monitor = g_steal_pointer (&scan->monitor);
  g_object_set_data_full (G_OBJECT (folder->monitor), "folder", g_strdup (folder->path), g_free);
  folder->monitor_handler = g_signal_connect (folder->monitor, "changed", G_CALLBACK (on_monitor_changed), watch);
}

/* A folder that is away for a moment is no news, one that stays away is told once. */
static void
note_failure (SbFolderWatch *watch, SbWatchedFolder *folder, const char *failure)
{
  folder_drop_monitor (folder);
  gint64 now = g_get_monotonic_time ();
  if (folder->failing_since_us == 0)
    folder->failing_since_us = now;
  gboolean lasts = now - folder->failing_since_us >= watch->settle_ms * G_TIME_SPAN_MILLISECOND;
  sb_folder_watch_look_within (watch, folder, lasts ? watch->look_ms : watch->settle_ms);
  if (!lasts || folder->failure != NULL)
    return;
  folder->failure = g_strdup (failure);
  sb_folder_watch_tell_missing (watch);
}

static void
note_success (SbFolderWatch *watch, SbWatchedFolder *folder)
{
  folder->failing_since_us = 0;
  if (folder->failure == NULL)
    return;
  g_clear_pointer (&folder->failure, g_free);
  sb_folder_watch_tell_missing (watch);
}

static gboolean
may_join (SbFolderWatch *watch, const SbWatchedFolder *folder)
{
  if (folder->opened == NULL)
    return FALSE;
  for (guint i = 0; i < watch->bench->configurations->len; i++)
    if (g_strcmp0 (sb_bench_configuration (watch->bench, i)->folder, folder->path) == 0)
      return TRUE;
  return !g_hash_table_contains (watch->seen, folder->path); /* else its configuration was taken out */
}

/* Listeners may follow another bench at once, and with it this folder may go: it is looked up anew each time. */
static void
take_scan (SbFolderWatch *watch, const char *path, SbFolderScan *scan)
{
  SbWatchedFolder *folder = g_hash_table_lookup (watch->folders, path);
  if (scan->failure != NULL) {
    if (folder->prospect)
      g_hash_table_remove (watch->folders, path);
    else
      note_failure (watch, folder, scan->failure);
    return;
  }
  gboolean again = scan->monitor != NULL; /* what happened before it was listened to */
  if (scan->monitor != NULL)
    take_monitor (watch, folder, scan);
  note_success (watch, folder);
  if ((folder = g_hash_table_lookup (watch->folders, path)) != NULL)
    again = look_at_opened_logs (watch, folder, scan) || again;
  if ((folder = g_hash_table_lookup (watch->folders, path)) != NULL && may_join (watch, folder))
    again = look_for_new_logs (watch, folder, scan) || again;
  if ((folder = g_hash_table_lookup (watch->folders, path)) != NULL && folder->descend)
    look_for_new_folders (watch, folder, scan);
  if (folder != NULL)
    sb_folder_watch_look_within (watch, folder, again ? MAX (watch->settle_ms / 3, 1) : watch->look_ms);
}

typedef struct {
  SbFolderWatch *watch; /* owned */
  char *path;
} Look;

static void
scanned (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Look *look = user_data;
  g_autoptr (SbFolderWatch) watch = look->watch;
  g_autofree char *path = look->path;
  g_free (look);
  g_autoptr (SbFolderScan) scan = sb_folder_scan_finish (result);
  SbWatchedFolder *folder = g_hash_table_lookup (watch->folders, path);
  if (scan == NULL || folder == NULL)
    return;
  folder->looking = FALSE;
  if (folder->look_again) {
    folder->look_again = FALSE;
    sb_folder_watch_look_within (watch, folder, SB_WATCH_EVENT_DELAY_MS);
  }
  take_scan (watch, path, scan);
}

/* One look at a time: a folder that does not answer holds up no more than one thread. */
static gboolean
on_look_due (gpointer user_data)
{
  Look *due = user_data;
  SbFolderWatch *watch = due->watch;
  SbWatchedFolder *folder = g_hash_table_lookup (watch->folders, due->path);
  folder->look_source = 0;
  if (folder->looking) {
    folder->look_again = TRUE;
    return G_SOURCE_REMOVE;
  }
  folder->looking = TRUE;
  Look *look = g_new (Look, 1);
  look->watch = g_object_ref (watch);
  look->path = g_strdup (folder->path);
  g_autoptr (GPtrArray) files = g_ptr_array_new ();
  for (guint i = 0; i < folder->logs->len; i++)
    g_ptr_array_add (files, g_ptr_array_index (folder->logs, i));
  g_ptr_array_add (files, NULL);
  sb_folder_scan_async (folder->path, (const char *const *) files->pdata, folder->opened != NULL,
                        folder->monitor == NULL, watch->cancellable, scanned, look);
  return G_SOURCE_REMOVE;
}

static void
due_free (gpointer data)
{
  Look *due = data;
  g_free (due->path);
  g_free (due);
}

void
sb_folder_watch_look_within (SbFolderWatch *watch, SbWatchedFolder *folder, guint delay_ms)
{
  gint64 due_us = g_get_monotonic_time () + delay_ms * G_TIME_SPAN_MILLISECOND;
  if (g_cancellable_is_cancelled (watch->cancellable) || (folder->look_source != 0 && folder->look_due_us <= due_us))
    return;
  g_clear_handle_id (&folder->look_source, g_source_remove);
  Look *due = g_new (Look, 1);
  due->watch = watch; /* borrowed: the source goes with the folder */
  due->path = g_strdup (folder->path);
  folder->look_source = g_timeout_add_full (G_PRIORITY_DEFAULT_IDLE, delay_ms, on_look_due, due, due_free);
  folder->look_due_us = due_us;
}
