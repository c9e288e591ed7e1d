/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder_scan.h"

#include "input.h"
#include "paths.h"

#include <glib/gstdio.h>

typedef struct {
  char *folder;
  GStrv files;
  gboolean listed, with_monitor;
} Question;

static void
question_free (gpointer data)
{
  Question *question = data;
  g_free (question->folder);
  g_strfreev (question->files);
  g_free (question);
}

void
sb_folder_scan_free (SbFolderScan *scan)
{
  g_free (scan->failure);
  g_hash_table_unref (scan->stamps);
  g_ptr_array_unref (scan->folders);
  if (scan->monitor != NULL)
    g_file_monitor_cancel (scan->monitor);
  g_clear_object (&scan->monitor);
  g_free (scan);
}

static SbFolderScan *
scan_new (void)
{
  SbFolderScan *scan = g_new0 (SbFolderScan, 1);
  scan->stamps = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  scan->folders = g_ptr_array_new_with_free_func (g_free);
  return scan;
}

/* Folders are noted by name, files by how they look. What is gone again is not there. */
static void
look_at (SbFolderScan *scan, char *path, gboolean as_log, gboolean as_folder)
{
  g_autofree char *own = path;
  GStatBuf look;
  if (g_stat (own, &look) != 0)
    return;
  if (as_folder && S_ISDIR (look.st_mode)) {
    g_ptr_array_add (scan->folders, g_steal_pointer (&own));
  } else if (as_log && S_ISREG (look.st_mode)) {
    SbFileStamp *stamp = g_new (SbFileStamp, 1);
    stamp->size_bytes = look.st_size;
    stamp->mtime_us = (gint64) look.st_mtim.tv_sec * G_USEC_PER_SEC + look.st_mtim.tv_nsec / 1000;
    g_hash_table_replace (scan->stamps, g_steal_pointer (&own), stamp);
  }
}

/* Why a folder cannot be looked into, as a sentence without its full stop. (transfer full) */
static char *
reason_of (const GError *error)
{
  if (g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_NOENT))
    return g_strdup ("the folder is no longer there: it was moved or renamed, or its drive or network is away");
  if (g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_ACCES))
    return g_strdup ("the folder may not be read");
  return g_strdup_printf ("the folder cannot be looked into: %s", error->message);
}

static void
scan_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  g_autoptr (SbFolderScan) scan = scan_new ();
  g_autoptr (GError) error = NULL;
  if (question->with_monitor) { /* first: what changes from here on is told or seen */
    g_autoptr (GFile) file = g_file_new_for_path (question->folder);
    scan->monitor = g_file_monitor_directory (file, G_FILE_MONITOR_WATCH_MOVES, cancellable, NULL);
  }
  g_autoptr (GDir) dir = g_dir_open (question->folder, 0, &error);
  if (dir == NULL)
    scan->failure = reason_of (error);
  const char *name;
  while (dir != NULL && question->listed && !g_cancellable_is_cancelled (cancellable)
         && (name = g_dir_read_name (dir)) != NULL)
    if (name[0] != '.')
      look_at (scan, g_build_filename (question->folder, name, NULL), sb_input_is_log_name (name), TRUE);
  for (gsize i = 0; question->files[i] != NULL && !g_cancellable_is_cancelled (cancellable); i++)
    if (!g_hash_table_contains (scan->stamps, question->files[i]))
      look_at (scan, g_strdup (question->files[i]), TRUE, FALSE);
  g_task_return_pointer (task, g_steal_pointer (&scan), (GDestroyNotify) sb_folder_scan_free);
}

void
sb_folder_scan_async (const char *folder, const char *const *files, gboolean listed, gboolean with_monitor,
                      GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, user_data);
  Question *question = g_new0 (Question, 1);
  question->folder = g_strdup (folder);
  question->files = sb_paths_copy (files);
  question->listed = listed;
  question->with_monitor = with_monitor;
  g_task_set_task_data (task, question, question_free);
  g_task_run_in_thread (task, scan_in_worker);
}

SbFolderScan *
sb_folder_scan_finish (GAsyncResult *result)
{
  return g_task_propagate_pointer (G_TASK (result), NULL);
}
