/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "work_keeper.h"

/* Choices come in bursts; what is lost to a crash is what was made in this time and while the disk was written to. */
#define KEPT_AFTER_MS 500
/* A disk that is full or away may have room again. */
#define TRIED_AGAIN_AFTER_S 10

/* The place on disk, shared with the worker that writes to it. */
typedef struct {
  GMutex mutex; /* held while the file is written or taken away */
  SbUnsavedWork *work;
  gboolean ended; /* atomic */
} Shelf;

struct SbWorkKeeper {
  SbDocument *document;
  char *folder;
  Shelf *shelf; /* atomic box; NULL: nothing was kept so far */
  guint source;
  gboolean running, kept, failed;
  gboolean again; /* choices were made while it was written */
};

static void
shelf_clear (gpointer data)
{
  Shelf *shelf = data;
  sb_unsaved_work_free (shelf->work);
  g_mutex_clear (&shelf->mutex);
}

static void
shelf_release (Shelf *shelf)
{
  g_atomic_rc_box_release_full (shelf, shelf_clear);
}

static Shelf *
shelf_new (SbUnsavedWork *work)
{
  Shelf *shelf = g_atomic_rc_box_new0 (Shelf);
  g_mutex_init (&shelf->mutex);
  shelf->work = work;
  return shelf;
}

typedef struct {
  Shelf *shelf;   /* owned */
  SbBench *bench; /* NULL: to be taken away */
  SbAnalysis *results;
  char *path, *digest;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  shelf_release (job->shelf);
  sb_bench_unref (job->bench);
  g_clear_pointer (&job->results, sb_analysis_unref);
  g_free (job->path);
  g_free (job->digest);
  g_free (job);
}

static void
run_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  gboolean well = TRUE;
  g_mutex_lock (&job->shelf->mutex);
  if (job->bench == NULL)
    sb_unsaved_work_forget (job->shelf->work);
  else if (!g_atomic_int_get (&job->shelf->ended))
    well = sb_unsaved_work_keep (job->shelf->work, job->bench, job->results, job->path, job->digest, &error);
  g_mutex_unlock (&job->shelf->mutex);
  if (well)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void go_on (SbWorkKeeper *keeper);
static gboolean on_due (gpointer user_data);

static void
fail (SbWorkKeeper *keeper, const char *what)
{
  if (!keeper->failed)
    g_signal_emit_by_name (keeper->document, "failed", what);
  keeper->failed = TRUE;
  if (keeper->source == 0)
    keeper->source = g_timeout_add_seconds (TRIED_AGAIN_AFTER_S, on_due, keeper);
}

static void
done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  gboolean well = g_task_propagate_boolean (G_TASK (result), &error);
  SbWorkKeeper *keeper = g_object_get_data (source, "work-keeper");
  if (keeper == NULL)
    return; /* it is gone */
  keeper->running = FALSE;
  if (!well) {
    fail (keeper, error->message);
    return;
  }
  keeper->failed = FALSE;
  if (keeper->again && keeper->source == 0)
    keeper->source = g_timeout_add (KEPT_AFTER_MS, on_due, keeper);
  keeper->again = FALSE;
  go_on (keeper);
}

static void
run (SbWorkKeeper *keeper, gboolean keep)
{
  Job *job = g_new0 (Job, 1);
  job->shelf = g_atomic_rc_box_acquire (keeper->shelf);
  if (keep) {
    job->bench = sb_document_bench_to_write (keeper->document);
    if (sb_document_results_are_current (keeper->document))
      job->results = sb_analysis_ref (sb_document_results (keeper->document));
    job->path = g_strdup (sb_document_path (keeper->document));
    job->digest = g_strdup (sb_document_digest (keeper->document));
  }
  keeper->running = TRUE;
  keeper->kept = keep;
  g_autoptr (GTask) task = g_task_new (keeper->document, NULL, done, NULL);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, run_in_worker);
}

static gboolean
on_due (gpointer user_data)
{
  SbWorkKeeper *keeper = user_data;
  keeper->source = 0;
  keeper->again = keeper->running;
  if (keeper->running)
    return G_SOURCE_REMOVE;
  if (keeper->shelf == NULL) {
    g_autoptr (GError) error = NULL;
    SbUnsavedWork *work = sb_unsaved_work_new (keeper->folder, &error);
    if (work == NULL) {
      fail (keeper, error->message);
      return G_SOURCE_REMOVE;
    }
    keeper->shelf = shelf_new (work);
  }
  run (keeper, TRUE);
  return G_SOURCE_REMOVE;
}

/* What was saved is taken away when nothing is under way. */
static void
go_on (SbWorkKeeper *keeper)
{
  if (!sb_document_has_unsaved_work (keeper->document)) {
    g_clear_handle_id (&keeper->source, g_source_remove);
    if (keeper->kept && !keeper->running)
      run (keeper, FALSE);
  }
}

static void
on_bench_changed (SbDocument *document, SbWorkKeeper *keeper)
{
  if (keeper->failed) /* sooner than it would be tried again */
    g_clear_handle_id (&keeper->source, g_source_remove);
  if (!sb_document_has_unsaved_work (document))
    go_on (keeper);
  else if (keeper->source == 0)
    keeper->source = g_timeout_add (KEPT_AFTER_MS, on_due, keeper);
}

SbWorkKeeper *
sb_work_keeper_new (SbDocument *document, const char *folder)
{
  SbWorkKeeper *keeper = g_new0 (SbWorkKeeper, 1);
  keeper->document = document;
  keeper->folder = g_strdup (folder);
  g_object_set_data (G_OBJECT (document), "work-keeper", keeper);
  g_signal_connect (document, "bench-changed", G_CALLBACK (on_bench_changed), keeper);
  return keeper;
}

static void
drop_shelf (SbWorkKeeper *keeper)
{
  g_clear_pointer (&keeper->shelf, shelf_release);
  keeper->kept = FALSE;
}

void
sb_work_keeper_free (SbWorkKeeper *keeper)
{
  if (keeper == NULL)
    return;
  g_signal_handlers_disconnect_by_data (keeper->document, keeper);
  g_object_set_data (G_OBJECT (keeper->document), "work-keeper", NULL);
  g_clear_handle_id (&keeper->source, g_source_remove);
  drop_shelf (keeper);
  g_free (keeper->folder);
  g_free (keeper);
}

void
sb_work_keeper_adopt (SbWorkKeeper *keeper, SbUnsavedWork *work)
{
  drop_shelf (keeper);
  keeper->shelf = shelf_new (work);
  keeper->kept = TRUE;
}

static void
forgotten (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GApplication) application = user_data;
  if (application != NULL)
    g_application_release (application);
}

/* The program does not end before the file is gone: it would be offered as found work. */
void
sb_work_keeper_end (SbWorkKeeper *keeper)
{
  g_clear_handle_id (&keeper->source, g_source_remove);
  if (keeper->shelf == NULL)
    return;
  GApplication *application = g_application_get_default ();
  if (application != NULL)
    g_application_hold (g_object_ref (application));
  g_atomic_int_set (&keeper->shelf->ended, TRUE);
  Job *job = g_new0 (Job, 1);
  job->shelf = g_atomic_rc_box_acquire (keeper->shelf);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, forgotten, application);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, run_in_worker);
  drop_shelf (keeper);
}
