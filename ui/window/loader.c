/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "loader.h"

#include "bench_layouts.h"
#include "hold_program.h"
#include "input.h"
#include "layout_store.h"
#include "let_go.h"
#include "paths.h"
#include "workers.h"

/* How often a running job is looked at, and how long a part result stands before the next may replace it. */
#define LOOK_INTERVAL_MS 50
#define PART_INTERVAL_US (400 * G_TIME_SPAN_MILLISECOND)

/* What a worker was asked for; the counts are written by worker threads and read by the main loop. */
typedef struct {
  SbBench *bench;
  SbAnalysisFlags flags;
  int n_done, n_total;
} Job;

struct _SbLoader {
  GObject parent_instance;
  SbCache *cache;
  GTask *full, *part; /* running, owned; NULL when none */
  guint look_source;
  gsize n_shown;      /* logs in the last part result */
  gint64 part_due_us; /* no part result before */
};

G_DEFINE_FINAL_TYPE (SbLoader, sb_loader, G_TYPE_OBJECT)

enum { RESULTS, PROGRESS, STOPPED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void start_part (SbLoader *loader);

static void
job_free (gpointer data)
{
  Job *job = data;
  sb_bench_unref (job->bench);
  g_free (job);
}

static void
note_progress (gsize n_done, gsize n_total, gpointer user_data)
{
  Job *job = user_data;
  g_atomic_int_set (&job->n_total, (int) n_total);
  /* Threads may report out of order: the count never goes back. */
  for (int seen = g_atomic_int_get (&job->n_done); (int) n_done > seen; seen = g_atomic_int_get (&job->n_done))
    if (g_atomic_int_compare_and_exchange (&job->n_done, seen, (int) n_done))
      break;
}

static void
analyse_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  SbLoader *loader = SB_LOADER (source);
  Job *job = data;
  g_autoptr (GError) error = NULL;
  sb_worker_give_way (); /* as will what GTask runs on this thread later: all of it is work behind the window */
  SbAnalysis *analysis
      = sb_analysis_run (job->bench, loader->cache, job->flags, note_progress, job, cancellable, &error);
  if (analysis == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_pointer (task, analysis, (GDestroyNotify) sb_analysis_unref);
}

static GTask *
start (SbLoader *loader, SbBench *bench, SbAnalysisFlags flags, GAsyncReadyCallback done)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  GTask *task = g_task_new (loader, cancellable, done, NULL);
  Job *job = g_new0 (Job, 1);
  job->bench = sb_bench_ref (bench);
  job->flags = flags | SB_ANALYSIS_IN_BACKGROUND;
  g_task_set_task_data (task, job, job_free);
  sb_hold_program ();
  g_task_run_in_thread (task, analyse_in_worker);
  return task;
}

static void
drop_task (GTask **task)
{
  if (*task != NULL)
    g_cancellable_cancel (g_task_get_cancellable (*task));
  g_clear_object (task);
}

static gboolean
look (gpointer user_data)
{
  SbLoader *loader = user_data;
  if (loader->full == NULL) {
    loader->look_source = 0;
    return G_SOURCE_REMOVE;
  }
  gsize n_done, n_total;
  sb_loader_progress (loader, &n_done, &n_total);
  g_signal_emit (loader, signals[PROGRESS], 0);
  if (n_done > loader->n_shown && n_done < n_total && loader->part == NULL
      && g_get_monotonic_time () >= loader->part_due_us) {
    loader->n_shown = n_done;
    start_part (loader);
  }
  return G_SOURCE_CONTINUE;
}

static void
part_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbLoader *loader = SB_LOADER (source);
  SbAnalysis *analysis = g_task_propagate_pointer (G_TASK (result), NULL);
  if (loader->part == G_TASK (result)) {
    g_clear_object (&loader->part);
    loader->part_due_us = g_get_monotonic_time () + PART_INTERVAL_US;
    if (analysis != NULL)
      g_signal_emit (loader, signals[RESULTS], 0, analysis, FALSE);
  }
  sb_let_go (&analysis);
  sb_release_program ();
}

static void
start_part (SbLoader *loader)
{
  Job *job = g_task_get_task_data (loader->full);
  loader->part = start (loader, job->bench, SB_ANALYSIS_CACHED_ONLY, part_done);
}

static void
full_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbLoader *loader = SB_LOADER (source);
  SbAnalysis *analysis = g_task_propagate_pointer (G_TASK (result), NULL);
  if (loader->full == G_TASK (result)) {
    drop_task (&loader->part);
    g_clear_object (&loader->full);
    if (analysis != NULL)
      g_signal_emit (loader, signals[RESULTS], 0, analysis, TRUE);
    g_signal_emit (loader, signals[PROGRESS], 0);
  }
  sb_let_go (&analysis);
  sb_release_program ();
}

void
sb_loader_analyse (SbLoader *loader, SbBench *bench)
{
  sb_loader_abandon (loader);
  loader->n_shown = 0;
  loader->part_due_us = 0;
  loader->full = start (loader, bench, SB_ANALYSIS_DEFAULT, full_done);
  if (loader->look_source == 0)
    loader->look_source = g_timeout_add (LOOK_INTERVAL_MS, look, loader);
}

void
sb_loader_forget (SbLoader *loader, const char *path)
{
  sb_cache_forget (loader->cache, path);
}

void
sb_loader_abandon (SbLoader *loader)
{
  drop_task (&loader->full);
  drop_task (&loader->part);
  g_clear_handle_id (&loader->look_source, g_source_remove);
}

void
sb_loader_stop (SbLoader *loader)
{
  if (loader->full == NULL)
    return;
  sb_loader_abandon (loader);
  g_signal_emit (loader, signals[PROGRESS], 0);
  g_signal_emit (loader, signals[STOPPED], 0);
}

gboolean
sb_loader_progress (SbLoader *loader, gsize *n_done, gsize *n_total)
{
  *n_done = *n_total = 0;
  if (loader->full == NULL)
    return FALSE;
  Job *job = g_task_get_task_data (loader->full);
  *n_done = (gsize) g_atomic_int_get (&job->n_done);
  *n_total = (gsize) g_atomic_int_get (&job->n_total);
  return TRUE;
}

typedef struct {
  SbBench *bench;
  GStrv paths;
  GError *error; /* of the paths that could not be used */
} Adding;

static void
adding_free (gpointer data)
{
  Adding *adding = data;
  sb_bench_unref (adding->bench);
  g_strfreev (adding->paths);
  g_clear_error (&adding->error);
  g_free (adding);
}

/* What was remembered of the columns of the logs added, behind what the bench states itself. */
static void
take_remembered (SbBench *edited, guint first, GCancellable *cancellable, GError **error)
{
  g_autofree char *store = sb_layout_store_path ();
  g_autoptr (GPtrArray) choices = sb_layout_store_list (store, error);
  if (choices != NULL)
    sb_bench_take_layouts_for_logs (edited, choices, first, cancellable);
}

static void
add_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Adding *adding = data;
  guint n_before = adding->bench->configurations->len;
  g_autoptr (SbBench) edited = sb_bench_edit (adding->bench);
  sb_input_add (edited, (const char *const *) adding->paths, g_strv_length (adding->paths), cancellable,
                &adding->error);
  gboolean added = edited->configurations->len > n_before;
  if (added)
    take_remembered (edited, n_before, cancellable, adding->error == NULL ? &adding->error : NULL);
  g_task_return_pointer (task, added ? g_steal_pointer (&edited) : NULL, (GDestroyNotify) sb_bench_unref);
}

static void
add_done (GObject *object, GParamSpec *pspec, gpointer user_data)
{
  sb_release_program ();
}

void
sb_loader_add_async (SbLoader *loader, SbBench *bench, const char *const *paths, GCancellable *cancellable,
                     GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (loader, cancellable, callback, user_data);
  Adding *adding = g_new0 (Adding, 1);
  adding->bench = sb_bench_ref (bench);
  adding->paths = sb_paths_copy (paths);
  g_task_set_task_data (task, adding, adding_free);
  sb_hold_program ();
  g_signal_connect (task, "notify::completed", G_CALLBACK (add_done), NULL);
  g_task_run_in_thread (task, add_in_worker);
}

SbBench *
sb_loader_add_finish (GAsyncResult *result, GError **error)
{
  GTask *task = G_TASK (result);
  Adding *adding = g_task_get_task_data (task);
  SbBench *bench = g_task_propagate_pointer (task, error);
  if (adding->error != NULL && (error == NULL || *error == NULL))
    g_propagate_error (error, g_steal_pointer (&adding->error));
  return bench;
}

static void
sb_loader_dispose (GObject *object)
{
  sb_loader_abandon (SB_LOADER (object));
  G_OBJECT_CLASS (sb_loader_parent_class)->dispose (object);
}

static void
sb_loader_finalize (GObject *object)
{
  sb_cache_free (SB_LOADER (object)->cache);
  G_OBJECT_CLASS (sb_loader_parent_class)->finalize (object);
}

static void
sb_loader_class_init (SbLoaderClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  object_class->dispose = sb_loader_dispose;
  object_class->finalize = sb_loader_finalize;
  signals[RESULTS] = g_signal_new ("results", SB_TYPE_LOADER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                   G_TYPE_POINTER, G_TYPE_BOOLEAN);
  signals[PROGRESS] = g_signal_new ("progress", SB_TYPE_LOADER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[STOPPED] = g_signal_new ("stopped", SB_TYPE_LOADER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_loader_init (SbLoader *loader)
{
  loader->cache = sb_cache_new ();
}

SbLoader *
sb_loader_new (void)
{
  return g_object_new (SB_TYPE_LOADER, NULL);
}
