/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder_watch_parts.h"

#include "path_order.h"
#include "paths.h"

#include <string.h>

#define SETTLE_MS 700
#define LOOK_MS   5000

/* Times of files are those of the clock's last tick: a file written now may look as old as this. */
#define COARSE_CLOCK_US (10 * G_TIME_SPAN_MILLISECOND)

G_DEFINE_FINAL_TYPE (SbFolderWatch, sb_folder_watch, G_TYPE_OBJECT)

enum { FOUND, CHANGED, MISSING_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static gboolean
on_missing_due (gpointer user_data)
{
  SbFolderWatch *watch = user_data;
  watch->missing_source = 0;
  g_signal_emit (watch, signals[MISSING_CHANGED], 0);
  return G_SOURCE_REMOVE;
}

void
sb_folder_watch_tell_missing (SbFolderWatch *watch)
{
  if (watch->missing_source == 0 && !g_cancellable_is_cancelled (watch->cancellable))
    watch->missing_source = g_idle_add (on_missing_due, watch);
}

SbWatchedFolder *
sb_folder_watch_folder_at (SbFolderWatch *watch, const char *path)
{
  SbWatchedFolder *folder = g_hash_table_lookup (watch->folders, path);
  if (folder != NULL)
    return folder;
  folder = g_new0 (SbWatchedFolder, 1);
  folder->path = g_strdup (path);
  folder->logs = g_ptr_array_new ();
  g_hash_table_insert (watch->folders, folder->path, folder);
  return folder;
}

void
sb_folder_watch_note_seen (SbFolderWatch *watch, const char *path)
{
  if (!g_hash_table_contains (watch->seen, path))
    g_hash_table_add (watch->seen, g_strdup (path));
}

/* The folder is needed; with `opened`, what is new in it joins. */
static SbWatchedFolder *
need_folder (SbFolderWatch *watch, const char *path, const char *opened)
{
  SbWatchedFolder *folder = sb_folder_watch_folder_at (watch, path);
  if (opened != NULL && g_strcmp0 (folder->opened, opened) != 0) {
    g_free (folder->opened);
    folder->opened = g_strdup (opened);
  }
  folder->needed = TRUE;
  folder->prospect = FALSE;
  return folder;
}

static void
note_opened (SbFolderWatch *watch, const char *path, GHashTable *still_opened)
{
  gpointer key = NULL, opened_us = NULL;
  if (g_hash_table_contains (still_opened, path))
    return;
  if (!g_hash_table_steal_extended (watch->opened_logs, path, &key, &opened_us)) {
    gint64 now = g_get_real_time () - COARSE_CLOCK_US;
    key = g_strdup (path);
    opened_us = g_memdup2 (&now, sizeof now);
  }
  g_hash_table_insert (still_opened, key, opened_us);
  g_autofree char *parent = g_path_get_dirname (path);
  g_ptr_array_add (need_folder (watch, parent, NULL)->logs, key);
  sb_folder_watch_note_seen (watch, path);
}

static void
need_folders_of (SbFolderWatch *watch, const SbConfiguration *configuration, GHashTable *still_opened)
{
  for (guint t = 0; t < configuration->entries->len; t++)
    note_opened (watch, sb_configuration_entry (configuration, t)->path, still_opened);
  if (configuration->folder == NULL)
    return;
  need_folder (watch, configuration->opened_folder, configuration->opened_folder)->descend = TRUE;
  need_folder (watch, configuration->folder, configuration->opened_folder);
  sb_folder_watch_note_seen (watch, configuration->folder);
}

static gboolean
is_not_needed (gpointer key, gpointer value, gpointer user_data)
{
  const SbWatchedFolder *folder = value;
  SbFolderWatch *watch = user_data;
  const SbWatchedFolder *opened = folder->prospect ? g_hash_table_lookup (watch->folders, folder->opened) : NULL;
  return !folder->needed && !(opened != NULL && opened->needed && opened->descend);
}

/* Most choices are about no log: what an edit leaves alone, it shares with the bench before. */
static gboolean
has_same_logs (const SbBench *a, const SbBench *b)
{
  if (a == NULL || a->configurations->len != b->configurations->len || a->passed_over != b->passed_over)
    return FALSE;
  for (guint i = 0; i < a->configurations->len; i++)
    if (sb_bench_configuration (a, i) != sb_bench_configuration (b, i))
      return FALSE;
  return TRUE;
}

/* Nothing is needed until a bench says so; TRUE when one of the folders is told as failing. */
static gboolean
forget_needs (SbFolderWatch *watch)
{
  gboolean any_failing = FALSE;
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init (&iter, watch->folders);
  while (g_hash_table_iter_next (&iter, NULL, &value)) {
    SbWatchedFolder *folder = value;
    folder->needed = folder->descend = FALSE;
    g_ptr_array_set_size (folder->logs, 0);
    any_failing = any_failing || folder->failure != NULL;
  }
  return any_failing;
}

void
sb_folder_watch_follow (SbFolderWatch *watch, SbBench *bench)
{
  if (watch->bench == bench || g_cancellable_is_cancelled (watch->cancellable))
    return;
  gboolean same_logs = has_same_logs (watch->bench, bench);
  g_clear_pointer (&watch->bench, sb_bench_unref);
  watch->bench = sb_bench_ref (bench);
  if (same_logs)
    return;
  gboolean any_failing = forget_needs (watch);
  GHashTable *still_opened = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  for (guint i = 0; i < bench->configurations->len; i++)
    need_folders_of (watch, sb_bench_configuration (bench, i), still_opened);
  for (guint i = 0; bench->passed_over != NULL && i < bench->passed_over->len; i++)
    sb_folder_watch_note_seen (watch, g_ptr_array_index (bench->passed_over, i));
  g_hash_table_unref (watch->opened_logs);
  watch->opened_logs = still_opened;
  gboolean any_gone = g_hash_table_foreach_remove (watch->folders, is_not_needed, watch) > 0;
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init (&iter, watch->folders);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    sb_folder_watch_look_within (watch, value, SB_WATCH_EVENT_DELAY_MS);
  if (any_failing && any_gone) /* maybe the one that failed */
    sb_folder_watch_tell_missing (watch);
}

void
sb_folder_watch_pass_over (SbFolderWatch *watch, const char *path)
{
  sb_folder_watch_note_seen (watch, path);
}

/* Whether a path that is not opened would join again if it had never been seen. */
static gboolean
is_kept_out (SbFolderWatch *watch, const char *path)
{
  if (g_hash_table_contains (watch->opened_logs, path) || g_hash_table_contains (watch->folders, path))
    return FALSE;
  g_autofree char *parent = g_path_get_dirname (path);
  const SbWatchedFolder *folder = g_hash_table_lookup (watch->folders, parent);
  return folder != NULL && folder->opened != NULL;
}

GPtrArray *
sb_folder_watch_passed_over (SbFolderWatch *watch)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
  GHashTableIter iter;
  gpointer path;
  g_hash_table_iter_init (&iter, watch->seen);
  while (g_hash_table_iter_next (&iter, &path, NULL))
    if (is_kept_out (watch, path))
      g_ptr_array_add (paths, g_strdup (path));
  g_ptr_array_sort (paths, sb_path_order_natural);
  return paths;
}

GPtrArray *
sb_folder_watch_missing (SbFolderWatch *watch)
{
  GPtrArray *missing = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init (&iter, watch->folders);
  while (g_hash_table_iter_next (&iter, NULL, &value)) {
    const SbWatchedFolder *folder = value;
    for (guint i = 0; folder->failure == NULL && i < folder->logs->len; i++) {
      char *path = g_ptr_array_index (folder->logs, i);
      const SbFileTrack *track = g_hash_table_lookup (watch->tracks, path);
      if (track != NULL && track->gone)
        g_ptr_array_add (missing, path);
    }
  }
  g_ptr_array_sort (missing, sb_path_order_natural);
  return missing;
}

const char *
sb_folder_watch_failure (SbFolderWatch *watch, const char *folder)
{
  const SbWatchedFolder *held = g_hash_table_lookup (watch->folders, folder);
  return held != NULL ? held->failure : NULL;
}

void
sb_folder_watch_set_pace (SbFolderWatch *watch, guint settle_ms, guint look_ms)
{
  watch->settle_ms = settle_ms;
  watch->look_ms = look_ms;
}

void
sb_folder_watch_close (SbFolderWatch *watch)
{
  g_cancellable_cancel (watch->cancellable);
  g_clear_handle_id (&watch->missing_source, g_source_remove);
  g_hash_table_remove_all (watch->folders);
}

static void
sb_folder_watch_dispose (GObject *object)
{
  sb_folder_watch_close (SB_FOLDER_WATCH (object));
  G_OBJECT_CLASS (sb_folder_watch_parent_class)->dispose (object);
}

static void
sb_folder_watch_finalize (GObject *object)
{
  SbFolderWatch *watch = SB_FOLDER_WATCH (object);
  g_hash_table_unref (watch->folders);
  g_hash_table_unref (watch->tracks);
  g_hash_table_unref (watch->opened_logs);
  g_hash_table_unref (watch->seen);
  g_clear_pointer (&watch->bench, sb_bench_unref);
  g_object_unref (watch->cancellable);
  G_OBJECT_CLASS (sb_folder_watch_parent_class)->finalize (object);
}

static void
sb_folder_watch_class_init (SbFolderWatchClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  object_class->dispose = sb_folder_watch_dispose;
  object_class->finalize = sb_folder_watch_finalize;
  signals[FOUND] = g_signal_new ("found", SB_TYPE_FOLDER_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3,
                                 G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRV);
  signals[CHANGED] = g_signal_new ("changed", SB_TYPE_FOLDER_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                   1, G_TYPE_STRV);
  signals[MISSING_CHANGED]
      = g_signal_new ("missing-changed", SB_TYPE_FOLDER_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_folder_watch_init (SbFolderWatch *watch)
{
  watch->settle_ms = SETTLE_MS;
  watch->look_ms = LOOK_MS;
  watch->folders = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, sb_watched_folder_free);
  watch->tracks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  watch->opened_logs = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  watch->seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  watch->cancellable = g_cancellable_new ();
}

SbFolderWatch *
sb_folder_watch_new (void)
{
  return g_object_new (SB_TYPE_FOLDER_WATCH, NULL);
}
