/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session_io.h"

#include "session.h"

void
sb_session_io_free (SbSessionIo *io)
{
  sb_bench_unref (io->bench);
  sb_bench_unref (io->written);
  g_clear_pointer (&io->results, sb_analysis_unref);
  g_free (io->path);
  g_free (io->expected);
  g_free (io->digest);
  g_free (io);
}

static void
return_result (GTask *task, gboolean well, GError *error)
{
  if (well)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/* The digest comes first: what is written between the two then counts as another's change. */
static void
read_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  SbSessionIo *io = data;
  GError *error = NULL;
  io->digest = sb_session_digest (io->path);
  io->bench = sb_session_load (io->path, &error);
  return_result (task, io->bench != NULL, error);
}

void
sb_session_io_read_async (GObject *owner, const char *path, GCancellable *cancellable, GAsyncReadyCallback callback,
                          gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (owner, cancellable, callback, user_data);
  SbSessionIo *io = g_new0 (SbSessionIo, 1);
  io->path = g_strdup (path);
  g_task_set_task_data (task, io, (GDestroyNotify) sb_session_io_free);
  g_task_run_in_thread (task, read_in_worker);
}

static void
write_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  SbSessionIo *io = data;
  GError *error = NULL;
  gboolean well = sb_session_save_over (io->written, io->results, io->path, io->expected, &io->digest, &error);
  return_result (task, well, error);
}

void
sb_session_io_write_async (GObject *owner, SbSessionIo *io, GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (owner, NULL, callback, user_data);
  g_task_set_task_data (task, io, (GDestroyNotify) sb_session_io_free);
  g_task_run_in_thread (task, write_in_worker);
}

const SbSessionIo *
sb_session_io_finish (GAsyncResult *result, GError **error)
{
  GTask *task = G_TASK (result);
  return g_task_propagate_boolean (task, error) ? g_task_get_task_data (task) : NULL;
}
