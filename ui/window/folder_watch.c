/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder_watch.h"

#include "folder_scan.h"
#include "paths.h"

#include <string.h>

#define SETTLE_MS 700
#define LOOK_MS   5000
/* A burst of changes is looked at once. */
#define EVENT_DELAY_MS 100
/* Every folder that is watched costs the system a little; beside a heap of folders without logs these are enough. */
#define MOST_FOLDERS 256

/* Times of files are those of the clock's last tick: a file written now may look as old as this. */
#define COARSE_CLOCK_US (10 * G_TIME_SPAN_MILLISECOND)

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
} Folder;

struct _SbFolderWatch {
  GObject parent_instance;
  guint settle_ms, look_ms;
  SbBench *bench;
  GHashTable *folders;     /* path -> Folder */
  GHashTable *tracks;      /* path -> SbFileTrack */
  GHashTable *opened_logs; /* path -> gint64 *: when it was opened, since 1970 */
  GHashTable *seen;        /* paths of logs and folders that need not be told any more */
  guint missing_source;
  GCancellable *cancellable;
};

G_DEFINE_FINAL_TYPE (SbFolderWatch, sb_folder_watch, G_TYPE_OBJECT)

enum { FOUND, CHANGED, MISSING_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void look_within (SbFolderWatch *watch, Folder *folder, guint delay_ms);

static gboolean
on_missing_due (gpointer user_data)
{
  SbFolderWatch *watch = user_data;
  watch->missing_source = 0;
  g_signal_emit (watch, signals[MISSING_CHANGED], 0);
  return G_SOURCE_REMOVE;
}

/* Once for all folders of a disk that goes. */
static void
tell_missing (SbFolderWatch *watch)
{
  if (watch->missing_source == 0 && !g_cancellable_is_cancelled (watch->cancellable))
    watch->missing_source = g_idle_add (on_missing_due, watch);
}

static void
folder_drop_monitor (Folder *folder)
{
  if (folder->monitor == NULL)
    return;
  g_signal_handler_disconnect (folder->monitor, folder->monitor_handler);
  g_file_monitor_cancel (folder->monitor);
  g_clear_object (&folder->monitor);
}

static void
folder_free (gpointer data)
{
  Folder *folder = data;
  folder_drop_monitor (folder);
  g_clear_handle_id (&folder->look_source, g_source_remove);
  g_ptr_array_unref (folder->logs);
  g_free (folder->path);
  g_free (folder->opened);
  g_free (folder->failure);
  g_free (folder);
}

static Folder *
folder_at (SbFolderWatch *watch, const char *path)
{
  Folder *folder = g_hash_table_lookup (watch->folders, path);
  if (folder != NULL)
    return folder;
  folder = g_new0 (Folder, 1);
  folder->path = g_strdup (path);
  folder->logs = g_ptr_array_new ();
  g_hash_table_insert (watch->folders, folder->path, folder);
  return folder;
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

static void
note_seen (SbFolderWatch *watch, const char *path)
{
  if (!g_hash_table_contains (watch->seen, path))
    g_hash_table_add (watch->seen, g_strdup (path));
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
look_at_opened_logs (SbFolderWatch *watch, Folder *folder, const SbFolderScan *scan)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  gboolean settling = FALSE, missing = FALSE;
  for (guint i = 0; i < folder->logs->len; i++) {
    const char *path = g_ptr_array_index (folder->logs, i);
    settling = look_at_opened (watch, path, stamp_of (scan, path), builder, &missing) || settling;
  }
  g_auto (GStrv) changed = g_strv_builder_end (builder);
  if (missing)
    tell_missing (watch);
  if (changed[0] != NULL)
    g_signal_emit (watch, signals[CHANGED], 0, changed);
  return settling;
}

static int
by_natural_order (gconstpointer a, gconstpointer b)
{
  return strverscmp (*(const char *const *) a, *(const char *const *) b);
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
  g_ptr_array_sort (ready, by_natural_order);
  return settling;
}

/* A new folder of logs is told whole: it waits for the last of its logs. */
static gboolean
look_for_new_logs (SbFolderWatch *watch, Folder *folder, const SbFolderScan *scan)
{
  g_autoptr (GPtrArray) ready = g_ptr_array_new ();
  gboolean settling = collect_ready (watch, scan, ready);
  gboolean has_configuration = g_hash_table_contains (watch->seen, folder->path);
  if (ready->len == 0 || (settling && !has_configuration))
    return settling;
  for (guint i = 0; i < ready->len; i++)
    note_seen (watch, g_ptr_array_index (ready, i));
  g_ptr_array_add (ready, NULL);
  g_signal_emit (watch, signals[FOUND], 0, folder->path, folder->opened, ready->pdata);
  return settling;
}

static void
look_for_new_folders (SbFolderWatch *watch, const Folder *opened, const SbFolderScan *scan)
{
  for (guint i = 0; i < scan->folders->len; i++) {
    const char *path = g_ptr_array_index (scan->folders, i);
    if (g_hash_table_contains (watch->folders, path) || g_hash_table_contains (watch->seen, path)
        || g_hash_table_size (watch->folders) >= MOST_FOLDERS)
      continue;
    Folder *folder = folder_at (watch, path);
    folder->prospect = TRUE;
    folder->opened = g_strdup (opened->path);
    look_within (watch, folder, 0);
  }
}

static void
on_monitor_changed (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, SbFolderWatch *watch)
{
  Folder *folder = g_hash_table_lookup (watch->folders, g_object_get_data (G_OBJECT (monitor), "folder"));
  if (folder != NULL)
    look_within (watch, folder, EVENT_DELAY_MS);
}

static void
take_monitor (SbFolderWatch *watch, Folder *folder, SbFolderScan *scan)
{
  folder_drop_monitor (folder);
  folder->monitor = g_steal_pointer (&scan->monitor);
  g_object_set_data_full (G_OBJECT (folder->monitor), "folder", g_strdup (folder->path), g_free);
  folder->monitor_handler = g_signal_connect (folder->monitor, "changed", G_CALLBACK (on_monitor_changed), watch);
}

/* A folder that is away for a moment is no news, one that stays away is told once. */
static void
note_failure (SbFolderWatch *watch, Folder *folder, const char *failure)
{
  folder_drop_monitor (folder);
  gint64 now = g_get_monotonic_time ();
  if (folder->failing_since_us == 0)
    folder->failing_since_us = now;
  gboolean lasts = now - folder->failing_since_us >= watch->settle_ms * G_TIME_SPAN_MILLISECOND;
  look_within (watch, folder, lasts ? watch->look_ms : watch->settle_ms);
  if (!lasts || folder->failure != NULL)
    return;
  folder->failure = g_strdup (failure);
  tell_missing (watch);
}

static void
note_success (SbFolderWatch *watch, Folder *folder)
{
  folder->failing_since_us = 0;
  if (folder->failure == NULL)
    return;
  g_clear_pointer (&folder->failure, g_free);
  tell_missing (watch);
}

static gboolean
may_join (SbFolderWatch *watch, const Folder *folder)
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
  Folder *folder = g_hash_table_lookup (watch->folders, path);
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
    look_within (watch, folder, again ? MAX (watch->settle_ms / 3, 1) : watch->look_ms);
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
  Folder *folder = g_hash_table_lookup (watch->folders, path);
  if (scan == NULL || folder == NULL)
    return;
  folder->looking = FALSE;
  if (folder->look_again) {
    folder->look_again = FALSE;
    look_within (watch, folder, EVENT_DELAY_MS);
  }
  take_scan (watch, path, scan);
}

/* One look at a time: a folder that does not answer holds up no more than one thread. */
static gboolean
on_look_due (gpointer user_data)
{
  Look *due = user_data;
  SbFolderWatch *watch = due->watch;
  Folder *folder = g_hash_table_lookup (watch->folders, due->path);
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

/* Sees to it that the folder is looked into no later than `delay_ms` from now. */
static void
look_within (SbFolderWatch *watch, Folder *folder, guint delay_ms)
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

/* The folder is needed; with `opened`, what is new in it joins. */
static Folder *
need_folder (SbFolderWatch *watch, const char *path, const char *opened)
{
  Folder *folder = folder_at (watch, path);
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
  note_seen (watch, path);
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
  note_seen (watch, configuration->folder);
}

static gboolean
is_not_needed (gpointer key, gpointer value, gpointer user_data)
{
  const Folder *folder = value;
  SbFolderWatch *watch = user_data;
  const Folder *opened = folder->prospect ? g_hash_table_lookup (watch->folders, folder->opened) : NULL;
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
    Folder *folder = value;
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
    note_seen (watch, g_ptr_array_index (bench->passed_over, i));
  g_hash_table_unref (watch->opened_logs);
  watch->opened_logs = still_opened;
  gboolean any_gone = g_hash_table_foreach_remove (watch->folders, is_not_needed, watch) > 0;
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init (&iter, watch->folders);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    look_within (watch, value, EVENT_DELAY_MS);
  if (any_failing && any_gone) /* maybe the one that failed */
    tell_missing (watch);
}

void
sb_folder_watch_pass_over (SbFolderWatch *watch, const char *path)
{
  note_seen (watch, path);
}

/* Whether a path that is not opened would join again if it had never been seen. */
static gboolean
is_kept_out (SbFolderWatch *watch, const char *path)
{
  if (g_hash_table_contains (watch->opened_logs, path) || g_hash_table_contains (watch->folders, path))
    return FALSE;
  g_autofree char *parent = g_path_get_dirname (path);
  const Folder *folder = g_hash_table_lookup (watch->folders, parent);
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
  g_ptr_array_sort (paths, by_natural_order);
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
    const Folder *folder = value;
    for (guint i = 0; folder->failure == NULL && i < folder->logs->len; i++) {
      char *path = g_ptr_array_index (folder->logs, i);
      const SbFileTrack *track = track_of (watch, path);
      if (track != NULL && track->gone)
        g_ptr_array_add (missing, path);
    }
  }
  g_ptr_array_sort (missing, by_natural_order);
  return missing;
}

const char *
sb_folder_watch_failure (SbFolderWatch *watch, const char *folder)
{
  const Folder *held = g_hash_table_lookup (watch->folders, folder);
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
  watch->folders = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, folder_free);
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
