/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "safe_keeping.h"

#include "session_watch.h"
#include "unsaved_strip.h"
#include "work_keeper.h"

struct SbSafeKeeping {
  SbWindow *window;
  GtkBox *content;
  char *folder;
  SbWorkKeeper *keeper;
  SbSessionWatch *watch;
  GCancellable *cancellable;
  gboolean looked;
};

static SbDocument *
document_of (SbSafeKeeping *keeping)
{
  return sb_window_document (keeping->window);
}

static void
on_session_told (const char *what, gpointer user_data)
{
  SbSafeKeeping *keeping = user_data;
  sb_window_tell (keeping->window, GTK_MESSAGE_WARNING, what);
}

SbSafeKeeping *
sb_safe_keeping_new (SbWindow *window, GtkBox *content)
{
  SbSafeKeeping *keeping = g_new0 (SbSafeKeeping, 1);
  g_autofree char *open_folder = sb_session_watch_folder ();
  keeping->window = window;
  keeping->content = content;
  keeping->folder = sb_unsaved_work_folder ();
  keeping->keeper = sb_work_keeper_new (sb_window_document (window), keeping->folder);
  keeping->watch = sb_session_watch_new (sb_window_document (window), open_folder, on_session_told, keeping);
  keeping->cancellable = g_cancellable_new ();
  return keeping;
}

void
sb_safe_keeping_free (SbSafeKeeping *keeping)
{
  g_cancellable_cancel (keeping->cancellable);
  g_object_unref (keeping->cancellable);
  sb_work_keeper_free (keeping->keeper);
  sb_session_watch_free (keeping->watch);
  g_free (keeping->folder);
  g_free (keeping);
}

void
sb_safe_keeping_end (SbSafeKeeping *keeping)
{
  sb_work_keeper_end (keeping->keeper);
}

static void
read_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  SbBench *bench = sb_unsaved_work_read (data, &error);
  if (bench != NULL)
    g_task_return_pointer (task, bench, (GDestroyNotify) sb_bench_unref);
  else
    g_task_return_error (task, error);
}

/* The document says first that there is something unsaved: what is adopted then stays. */
static void
was_read (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbSafeKeeping *keeping = user_data;
  g_autoptr (SbUnsavedWork) work = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbBench) bench = g_task_propagate_pointer (G_TASK (result), &error);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* the window is gone; the work is found again */
  if (bench == NULL) {
    sb_window_tell (keeping->window, GTK_MESSAGE_ERROR, error->message);
    return;
  }
  sb_document_recover (document_of (keeping), bench, work->session_path, work->digest);
  sb_work_keeper_adopt (keeping->keeper, g_steal_pointer (&work));
  sb_window_tell (keeping->window, GTK_MESSAGE_INFO,
                  "The unsaved work is open again. It is kept until it is saved, or closed without saving.");
}

void
sb_safe_keeping_go_on (SbSafeKeeping *keeping, SbUnsavedWork *work)
{
  g_autoptr (GTask) task = g_task_new (NULL, keeping->cancellable, was_read, keeping);
  g_task_set_task_data (task, work, NULL); /* freed when it was read */
  g_task_run_in_thread (task, read_in_worker);
}

/* A window with something in it is left alone. */
static void
on_open (SbUnsavedStrip *strip, gpointer work, SbSafeKeeping *keeping)
{
  SbDocument *document = document_of (keeping);
  gsize n_done, n_total;
  gboolean blank = sb_bench_is_empty (sb_document_bench (document)) && sb_document_path (document) == NULL
                   && sb_document_undo_step (document) == NULL && !sb_document_busy (document, &n_done, &n_total);
  if (blank) {
    sb_safe_keeping_go_on (keeping, work);
    return;
  }
  GtkWidget *window = sb_window_new (gtk_window_get_application (GTK_WINDOW (keeping->window)));
  sb_safe_keeping_go_on (sb_window_safe_keeping (SB_WINDOW (window)), work);
  gtk_window_present (GTK_WINDOW (window));
}

static void
find_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_task_return_pointer (task, sb_unsaved_work_find (data), (GDestroyNotify) g_ptr_array_unref);
}

static void
was_found (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbSafeKeeping *keeping = user_data;
  g_autoptr (GPtrArray) found = g_task_propagate_pointer (G_TASK (result), NULL);
  if (found == NULL || found->len == 0)
    return;
  GtkWidget *strip = sb_unsaved_strip_new (g_steal_pointer (&found));
  g_signal_connect (strip, "open", G_CALLBACK (on_open), keeping);
  gtk_box_prepend (keeping->content, strip);
}

void
sb_safe_keeping_look (SbSafeKeeping *keeping)
{
  if (keeping->looked)
    return;
  keeping->looked = TRUE;
  g_autoptr (GTask) task = g_task_new (NULL, keeping->cancellable, was_found, keeping);
  g_task_set_task_data (task, g_strdup (keeping->folder), g_free);
  g_task_run_in_thread (task, find_in_worker);
}
