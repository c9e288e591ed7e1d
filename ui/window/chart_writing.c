/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_writing.h"

#include "hold_program.h"

typedef struct {
  SbChartModel *model;
  SbChartSize size;
  char *path;
} Writing;

static void
writing_free (gpointer data)
{
  Writing *writing = data;
  sb_chart_model_unref (writing->model);
  g_free (writing->path);
  g_free (writing);
}

static void
write_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Writing *writing = data;
  g_autoptr (GError) error = NULL;
  if (sb_chart_export (writing->model, writing->path, &writing->size, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

void
sb_chart_write (GObject *owner, SbChartModel *model, const SbChartSize *size, const char *path,
                GAsyncReadyCallback written)
{
  Writing *writing = g_new (Writing, 1);
  *writing = (Writing){ model, *size, g_strdup (path) };
  g_autoptr (GTask) task = g_task_new (owner, NULL, written, NULL);
  g_task_set_task_data (task, writing, writing_free);
  sb_hold_program ();
  g_task_run_in_thread (task, write_in_worker);
}

gboolean
sb_chart_write_finish (GAsyncResult *result, char **what)
{
  const Writing *writing = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  sb_release_program ();
  gboolean well = g_task_propagate_boolean (G_TASK (result), &error);
  g_autofree char *shown = g_filename_display_name (writing->path);
  *what = well ? g_strdup_printf ("The chart is written: %s", shown) : g_strdup (error->message);
  return well;
}
