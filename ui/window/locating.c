/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "locating.h"

#include "file_choice.h"
#include "locate_logs.h"

typedef struct {
  SbWindow *window; /* owned */
  SbBench *bench;
  SbAnalysis *results; /* may be NULL */
  char *folder;
  SbLocateReport report;
} Locating;

static void
locating_free (gpointer data)
{
  Locating *locating = data;
  g_object_unref (locating->window);
  sb_bench_unref (locating->bench);
  g_clear_pointer (&locating->results, sb_analysis_unref);
  g_free (locating->folder);
  sb_locate_report_clear (&locating->report);
  g_free (locating);
}

static void begin (SbWindow *window, const char *folder);

static void
locate_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Locating *locating = data;
  SbBench *edited
      = sb_bench_locate_logs (locating->bench, locating->results, locating->folder, cancellable, &locating->report);
  g_task_return_pointer (task, edited, (GDestroyNotify) sb_bench_unref);
}

static void
located (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Locating *locating = g_task_get_task_data (G_TASK (result));
  SbDocument *document = SB_DOCUMENT (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbBench) edited = g_task_propagate_pointer (G_TASK (result), &error);
  if (error != NULL) /* the window was closed */
    return;
  if (sb_document_bench (document) != locating->bench) { /* the person went on meanwhile */
    begin (locating->window, locating->folder);
    return;
  }
  guint n = locating->report.n_found;
  g_autofree char *step = g_strdup_printf ("locate %u %s", n, n == 1 ? "log" : "logs");
  g_autofree char *text = sb_locate_report_text (&locating->report);
  if (edited != NULL)
    sb_document_push (document, g_steal_pointer (&edited), step);
  sb_window_tell (locating->window, n < locating->report.n_lost ? GTK_MESSAGE_WARNING : GTK_MESSAGE_INFO, text);
}

static void
begin (SbWindow *window, const char *folder)
{
  SbDocument *document = sb_window_document (window);
  Locating *locating = g_new0 (Locating, 1);
  locating->window = g_object_ref (window);
  locating->bench = sb_bench_ref (sb_document_bench (document));
  if (sb_document_results_are_current (document))
    locating->results = sb_analysis_ref (sb_document_results (document));
  locating->folder = g_strdup (folder);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_signal_connect_object (window, "destroy", G_CALLBACK (g_cancellable_cancel), cancellable, G_CONNECT_SWAPPED);
  g_autoptr (GTask) task = g_task_new (document, cancellable, located, NULL);
  g_task_set_task_data (task, locating, locating_free);
  g_task_run_in_thread (task, locate_in_worker);
}

static void
on_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  begin (SB_WINDOW (parent), paths[0]);
}

void
sb_locating_ask (SbWindow *window)
{
  SbFileQuestion question = {
    .title = "Look for missing and changed logs in a folder",
    .action = GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
  };
  sb_file_choice_ask (GTK_WINDOW (window), &question, on_chosen, NULL);
}
