/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session_watch.h"

#include "durable_file.h"
#include "paths.h"
#include "session.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* A file that is being replaced stands still after this; also our own. */
#define LOOKED_AT_AFTER_MS 400

/* What is held for one session file. The lock is a file of the user's own: the first window holds it, another one that
 * comes leaves a sign in it, by which the first is told. */
typedef struct {
  int lock_fd; /* -1: another has it, or there is none */
  gboolean shared;
  GFileMonitor *file, *lock;
} Hold;

struct SbSessionWatch {
  SbDocument *document;
  char *folder;
  SbSessionTold told;
  gpointer user_data;
  char *path;        /* held, or on the way to be */
  char *told_digest; /* of the change last told */
  Hold *hold;        /* NULL until it is */
  guint source;
  GCancellable *cancellable; /* of the work for `path` */
};

char *
sb_session_watch_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "slewbench", "open", NULL);
}

static void
hold_free (gpointer data)
{
  Hold *hold = data;
  GFileMonitor *monitors[] = { hold->file, hold->lock };
  for (guint i = 0; i < G_N_ELEMENTS (monitors); i++)
    if (monitors[i] != NULL) {
      g_file_monitor_cancel (monitors[i]);
      g_object_unref (monitors[i]);
    }
  if (hold->lock_fd >= 0)
    close (hold->lock_fd);
  g_free (hold);
}

static GFileMonitor *
listen_to (const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  return g_file_monitor_file (file, G_FILE_MONITOR_NONE, NULL, NULL);
}

static void
take_lock (Hold *hold, const char *lock_path)
{
  int fd = g_open (lock_path, O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
  if (fd < 0)
    return;
  if (flock (fd, LOCK_EX | LOCK_NB) == 0) {
    if (ftruncate (fd, 0) == 0)
      hold->lock = listen_to (lock_path);
    hold->lock_fd = fd;
    return;
  }
  hold->shared = errno == EWOULDBLOCK;
  if (hold->shared && write (fd, "1", 1) != 1)
    hold->shared = TRUE; /* the other is not told; this one is */
  close (fd);
}

static void
hold_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const char *const *paths = data; /* of the session, of the folder of locks */
  Hold *hold = g_new0 (Hold, 1);
  hold->lock_fd = -1;
  g_autofree char *target = sb_durable_file_target (paths[0]);
  g_autofree char *name = g_compute_checksum_for_string (G_CHECKSUM_SHA256, target, -1);
  g_autofree char *lock_path = g_build_filename (paths[1], name, NULL);
  if (g_mkdir_with_parents (paths[1], 0700) == 0)
    take_lock (hold, lock_path);
  hold->file = listen_to (target);
  g_task_return_pointer (task, hold, hold_free);
}

static void
tell (SbSessionWatch *watch, const char *format)
{
  g_autofree char *shown = g_filename_display_basename (watch->path);
  g_autofree char *what = g_strconcat (shown, format, NULL);
  watch->told (what, watch->user_data);
}

static void
looked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbSessionWatch *watch = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = g_task_propagate_pointer (G_TASK (result), &error);
  if (error != NULL) /* cancelled: the watch may be gone */
    return;
  const char *known = sb_document_digest (watch->document);
  if (sb_document_is_saving (watch->document) || digest == NULL || g_strcmp0 (digest, known) == 0
      || g_strcmp0 (digest, watch->told_digest) == 0)
    return; /* the end of a saving is seen too */
  g_free (watch->told_digest);
  watch->told_digest = g_steal_pointer (&digest);
  tell (watch, " was changed on disk by another window or program. Saving asks before it writes over that.");
}

static void
digest_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_task_return_pointer (task, sb_session_digest (data), g_free);
}

static gboolean
on_look_due (gpointer user_data)
{
  SbSessionWatch *watch = user_data;
  watch->source = 0;
  g_autoptr (GTask) task = g_task_new (NULL, watch->cancellable, looked, watch);
  g_task_set_task_data (task, g_strdup (watch->path), g_free);
  g_task_run_in_thread (task, digest_in_worker);
  return G_SOURCE_REMOVE;
}

static void
look_soon (SbSessionWatch *watch)
{
  g_clear_handle_id (&watch->source, g_source_remove);
  watch->source = g_timeout_add (LOOKED_AT_AFTER_MS, on_look_due, watch);
}

static void
on_file_changed (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, SbSessionWatch *watch)
{
  look_soon (watch);
}

/* Something in the lock is another's sign. */
static void
on_lock_changed (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, SbSessionWatch *watch)
{
  struct stat now;
  if (fstat (watch->hold->lock_fd, &now) != 0 || now.st_size == 0 || ftruncate (watch->hold->lock_fd, 0) != 0)
    return;
  tell (watch, " was opened in another window too. Whoever saves last is asked before the other's changes are lost.");
}

static void
held (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbSessionWatch *watch = user_data;
  Hold *hold = g_task_propagate_pointer (G_TASK (result), NULL);
  if (hold == NULL) /* given up: the watch may be gone */
    return;
  watch->hold = hold;
  if (hold->file != NULL)
    g_signal_connect (hold->file, "changed", G_CALLBACK (on_file_changed), watch);
  if (hold->lock != NULL)
    g_signal_connect (hold->lock, "changed", G_CALLBACK (on_lock_changed), watch);
  if (hold->shared)
    tell (watch, " is open in another window too. Whoever saves last is asked before the other's changes are lost.");
  look_soon (watch); /* what happened before it was listened to */
}

static void
let_go (SbSessionWatch *watch)
{
  g_cancellable_cancel (watch->cancellable);
  g_clear_object (&watch->cancellable);
  g_clear_handle_id (&watch->source, g_source_remove);
  g_clear_pointer (&watch->hold, hold_free);
  g_clear_pointer (&watch->told_digest, g_free);
  g_clear_pointer (&watch->path, g_free);
}

static void
on_bench_changed (SbDocument *document, SbSessionWatch *watch)
{
  const char *path = sb_document_path (document);
  if (g_strcmp0 (path, watch->path) == 0)
    return;
  let_go (watch);
  if (path == NULL)
    return;
  watch->path = g_strdup (path);
  watch->cancellable = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (NULL, watch->cancellable, held, watch);
  const char *const paths[] = { path, watch->folder, NULL };
  g_task_set_task_data (task, sb_paths_copy (paths), (GDestroyNotify) g_strfreev);
  g_task_run_in_thread (task, hold_in_worker);
}

SbSessionWatch *
sb_session_watch_new (SbDocument *document, const char *folder, SbSessionTold told, gpointer user_data)
{
  SbSessionWatch *watch = g_new0 (SbSessionWatch, 1);
  watch->document = document;
  watch->folder = g_strdup (folder);
  watch->told = told;
  watch->user_data = user_data;
  g_signal_connect (document, "bench-changed", G_CALLBACK (on_bench_changed), watch);
  return watch;
}

void
sb_session_watch_free (SbSessionWatch *watch)
{
  if (watch == NULL)
    return;
  g_signal_handlers_disconnect_by_data (watch->document, watch);
  let_go (watch);
  g_free (watch->folder);
  g_free (watch);
}
