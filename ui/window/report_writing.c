/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_writing.h"

#include "file_writing.h"
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

static gboolean
write_report (gpointer data, GError **error)
{
  const Writing *writing = data;
  const SbChartModel *model = writing->model;
  return writing->as_bundle ? sb_report_bundle (model->analysis, model->evidence, writing->sheet, writing->path, error)
                            : write_folder (writing, error);
}

void
sb_report_write (GObject *owner, SbChartModel *model, SbPaperSize sheet, gboolean as_bundle, const char *path,
                 GAsyncReadyCallback written)
{
  Writing *writing = g_new (Writing, 1);
  *writing = (Writing){ model, sheet, as_bundle, g_strdup (path), g_ptr_array_new_with_free_func (g_free) };
  sb_file_write (owner, write_report, writing, writing_free, written);
}

gboolean
sb_report_write_finish (GAsyncResult *result, char **what)
{
  g_autoptr (GError) error = NULL;
  gboolean well;
  const Writing *writing = sb_file_write_finish (result, &well, &error);
  if (!well) {
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
