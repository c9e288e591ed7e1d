/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_writing.h"

#include "hold_program.h"
#include "report_folder.h"

typedef struct {
  SbChartModel *model;
  SbPaperSize sheet;
  gboolean as_bundle;
  char *path;
  GPtrArray *kept; /* char *: of a former report, changed since */
} Writing;

static void
writing_free (gpointer data)
{
  Writing *writing = data;
  sb_chart_model_unref (writing->model);
  g_ptr_array_unref (writing->kept);
  g_free (writing->path);
  g_free (writing);
}

static gboolean
write_folder (const Writing *writing, GError **error)
{
  const SbChartModel *model = writing->model;
  g_autoptr (GPtrArray) files = sb_report_files (model->analysis, model->evidence, writing->sheet, error);
  return files != NULL && sb_report_folder_write (files, writing->path, writing->kept, error);
}

static void
write_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Writing *writing = data;
  const SbChartModel *model = writing->model;
  g_autoptr (GError) error = NULL;
  if (writing->as_bundle ? sb_report_bundle (model->analysis, model->evidence, writing->sheet, writing->path, &error)
                         : write_folder (writing, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

void
sb_report_write (GObject *owner, SbChartModel *model, SbPaperSize sheet, gboolean as_bundle, const char *path,
                 GAsyncReadyCallback written)
{
  Writing *writing = g_new (Writing, 1);
  *writing = (Writing){ model, sheet, as_bundle, g_strdup (path), g_ptr_array_new_with_free_func (g_free) };
  g_autoptr (GTask) task = g_task_new (owner, NULL, written, NULL);
  g_task_set_task_data (task, writing, writing_free);
  sb_hold_program ();
  g_task_run_in_thread (task, write_in_worker);
}

gboolean
sb_report_write_finish (GAsyncResult *result, char **what)
{
  const Writing *writing = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  sb_release_program ();
  if (!g_task_propagate_boolean (G_TASK (result), &error)) {
    *what = g_strdup (error->message);
    return FALSE;
  }
  g_autofree char *shown = g_filename_display_name (writing->path);
  GString *text = g_string_new (NULL);
  g_string_printf (text, "The report is written: %s", shown);
  for (guint i = 0; i < writing->kept->len; i++)
    g_string_append_printf (text, "%s%s",
                            i == 0 ? ". Of a former report, but changed since, and no part of this one: " : ", ",
                            (const char *) g_ptr_array_index (writing->kept, i));
  *what = g_string_free (text, FALSE);
  return TRUE;
}
