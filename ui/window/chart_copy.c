/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_copy.h"

#include "chart_export.h"

#define N_FORMATS 2

static const struct {
  SbChartFormat format;
  const char *mime_type;
} offered[N_FORMATS] = { { SB_CHART_PNG, "image/png" }, { SB_CHART_SVG, "image/svg+xml" } };

/* Copies that were begun, in all windows: the clipboard is the last one's. */
static guint last_turn;

typedef struct {
  guint turn;
  SbChartModel *model;
  SbChartSize size;
  SbChartCopied copied;
} Copying;

static void
copying_free (gpointer data)
{
  Copying *copying = data;
  sb_chart_model_unref (copying->model);
  g_free (copying);
}

static void
draw_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Copying *copying = data;
  g_autoptr (GError) error = NULL;
  GPtrArray *drawn = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  for (gsize i = 0; i < N_FORMATS && error == NULL; i++) {
    GBytes *bytes = sb_chart_render (copying->model, offered[i].format, &copying->size, &error);
    if (bytes != NULL)
      g_ptr_array_add (drawn, bytes);
  }
  if (error == NULL) {
    g_task_return_pointer (task, drawn, (GDestroyNotify) g_ptr_array_unref);
    return;
  }
  g_ptr_array_unref (drawn);
  g_task_return_error (task, g_steal_pointer (&error));
}

static void
drawn (GObject *window, GAsyncResult *result, gpointer user_data)
{
  const Copying *copying = g_task_get_task_data (G_TASK (result));
  if (copying->turn != last_turn || !gtk_widget_get_visible (GTK_WIDGET (window)))
    return; /* another copy was asked for since, or the window is closed */
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) pictures = g_task_propagate_pointer (G_TASK (result), &error);
  if (pictures == NULL) {
    copying->copied (GTK_WINDOW (window), FALSE, error->message);
    return;
  }
  GdkContentProvider *as[N_FORMATS];
  for (guint i = 0; i < N_FORMATS; i++)
    as[i] = gdk_content_provider_new_for_bytes (offered[i].mime_type, g_ptr_array_index (pictures, i));
  g_autoptr (GdkContentProvider) all = gdk_content_provider_new_union (as, N_FORMATS);
  gdk_clipboard_set_content (gtk_widget_get_clipboard (GTK_WIDGET (window)), all);
  copying->copied (GTK_WINDOW (window), TRUE,
                   "The chart is on the clipboard, as PNG and as SVG, as an export would be.");
}

void
sb_chart_copy (GtkWindow *window, SbDocument *document, SbChartModel *model, SbChartCopied copied)
{
  if (model == NULL) {
    copied (window, FALSE, "There is no chart to copy yet.");
    return;
  }
  const SbChartChoices *chart = &sb_document_bench (document)->chart;
  /* The results may not have followed yet: the model is the copy's own. */
  g_free (model->title);
  model->title = g_strdup (chart->title);
  sb_chart_model_set_paper (model, &chart->paper);
  Copying *copying = g_new0 (Copying, 1);
  *copying = (Copying){ ++last_turn, model, sb_chart_size_of (&chart->paper), copied };
  g_autoptr (GTask) task = g_task_new (window, NULL, drawn, NULL);
  g_task_set_task_data (task, copying, copying_free);
  g_task_run_in_thread (task, draw_in_worker);
}
