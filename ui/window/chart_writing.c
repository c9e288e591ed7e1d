/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_writing.h"

#include "file_writing.h"

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

static gboolean
write_chart (gpointer data, GError **error)
{
  const Writing *writing = data;
  return sb_chart_export (writing->model, writing->path, &writing->size, error);
}

void
sb_chart_write (GObject *owner, SbChartModel *model, const SbChartSize *size, const char *path,
                GAsyncReadyCallback written)
{
  Writing *writing = g_new (Writing, 1);
  *writing = (Writing){ model, *size, g_strdup (path) };
  sb_file_write (owner, write_chart, writing, writing_free, written);
}

gboolean
sb_chart_write_finish (GAsyncResult *result, char **what)
{
  g_autoptr (GError) error = NULL;
  gboolean well;
  const Writing *writing = sb_file_write_finish (result, &well, &error);
  g_autofree char *shown = g_filename_display_name (writing->path);
  *what = well ? g_strdup_printf ("The chart is written: %s", shown) : g_strdup (error->message);
  return well;
}
