/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_writing.h"

#include "hold_program.h"

typedef struct {
  SbFileWriter writer;
  gpointer data;
  GDestroyNotify data_free;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  job->data_free (job->data);
  g_free (job);
}

static void
write_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Job *job = data;
  g_autoptr (GError) error = NULL;
  if (job->writer (job->data, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

void
sb_file_write (GObject *owner, SbFileWriter writer, gpointer data, GDestroyNotify data_free,
               GAsyncReadyCallback written)
{
  Job *job = g_new (Job, 1);
  *job = (Job){ writer, data, data_free };
  g_autoptr (GTask) task = g_task_new (owner, NULL, written, NULL);
  g_task_set_task_data (task, job, job_free);
  sb_hold_program ();
  g_task_run_in_thread (task, write_in_worker);
}

gpointer
sb_file_write_finish (GAsyncResult *result, gboolean *well, GError **error)
{
  const Job *job = g_task_get_task_data (G_TASK (result));
  sb_release_program ();
  *well = g_task_propagate_boolean (G_TASK (result), error);
  return job->data;
}
