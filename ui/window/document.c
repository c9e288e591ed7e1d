/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document.h"

#include "due_cut.h"
#include "history.h"
#include "joining.h"
#include "loader.h"
#include "paths.h"
#include "session.h"

struct _SbDocument {
  GObject parent_instance;
  SbHistory *history;
  SbAnalysis *results;
  gboolean complete; /* the results are of every log */
  SbLoader *loader;
  GCancellable *cancellable;
  GQueue *waiting; /* GStrv: what is to be added when the present adding is done */
  guint n_adding;
  char *path;
  SbFolderWatch *watch;
  guint n_passed_over; /* when it was saved */
  SbNews *news;
  SbDueCut due_cut;
};

G_DEFINE_FINAL_TYPE (SbDocument, sb_document, G_TYPE_OBJECT)

enum { BENCH_CHANGED, RESULTS_CHANGED, BUSY_CHANGED, NEWS_CHANGED, STOPPED, FAILED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void add_next (SbDocument *document);
static void choices_changed (SbDocument *document);

static void
emit (SbDocument *document, guint signal)
{
  g_signal_emit (document, signals[signal], 0);
}

static void
tell_failure (SbDocument *document, const char *what)
{
  g_signal_emit (document, signals[FAILED], 0, what);
}

SbBench *
sb_document_bench (SbDocument *document)
{
  return sb_history_current (document->history);
}

SbAnalysis *
sb_document_results (SbDocument *document)
{
  return document->results;
}

gboolean
sb_document_results_are_current (SbDocument *document)
{
  return document->complete && document->results != NULL && document->results->bench == sb_document_bench (document);
}

const SbConfigurationResult *
sb_document_result (SbDocument *document, guint index)
{
  SbAnalysis *results = document->results;
  if (results == NULL)
    return NULL;
  const char *name = sb_bench_configuration (sb_document_bench (document), index)->name;
  if (results->bench == sb_document_bench (document))
    return sb_analysis_configuration (results, index);
  for (guint i = 0; i < results->configurations->len; i++) {
    const SbConfigurationResult *result = sb_analysis_configuration (results, i);
    if (g_str_equal (result->name, name))
      return result;
  }
  return NULL;
}

/* Logs came, or are to be cut from now on. */
static void
expect_cut (SbDocument *document)
{
  sb_due_cut_expect (&document->due_cut, sb_document_bench (document));
}

static void
on_results (SbLoader *loader, gpointer analysis, gboolean complete, SbDocument *document)
{
  g_clear_pointer (&document->results, sb_analysis_unref);
  document->results = sb_analysis_ref (analysis);
  document->complete = complete;
  if (sb_document_results_are_current (document)
      && sb_due_cut_make (&document->due_cut, document->results, document->history, document->news))
    choices_changed (document); /* results of the cut logs are on their way */
  else
    emit (document, RESULTS_CHANGED);
}

static void
on_progress (SbLoader *loader, SbDocument *document)
{
  emit (document, BUSY_CHANGED);
}

static void
on_stopped (SbLoader *loader, SbDocument *document)
{
  emit (document, STOPPED);
}

static void
choices_changed (SbDocument *document)
{
  sb_folder_watch_follow (document->watch, sb_document_bench (document));
  sb_loader_analyse (document->loader, sb_document_bench (document));
  emit (document, BENCH_CHANGED);
  emit (document, BUSY_CHANGED);
}

void
sb_document_push (SbDocument *document, SbBench *edited, const char *step)
{
  sb_history_push (document->history, edited, step);
  choices_changed (document);
}

void
sb_document_take_in (SbDocument *document, SbBench *edited, const char *step)
{
  gboolean can_be_had_again = document->path == NULL && sb_document_is_saved (document);
  sb_history_push (document->history, edited, step);
  if (can_be_had_again)
    sb_history_mark_saved (document->history);
  expect_cut (document);
  choices_changed (document);
}

void
sb_document_push_to_cut (SbDocument *document, SbBench *edited, const char *step)
{
  sb_history_push (document->history, edited, step);
  expect_cut (document);
  choices_changed (document);
}

const char *
sb_document_undo_step (SbDocument *document)
{
  return sb_history_undo_step (document->history);
}

const char *
sb_document_redo_step (SbDocument *document)
{
  return sb_history_redo_step (document->history);
}

void
sb_document_undo (SbDocument *document)
{
  if (!sb_history_undo (document->history))
    return;
  sb_due_cut_forget (&document->due_cut);
  choices_changed (document);
}

void
sb_document_redo (SbDocument *document)
{
  if (!sb_history_redo (document->history))
    return;
  sb_due_cut_forget (&document->due_cut);
  choices_changed (document);
}

/* "add 3 configurations", "add Slope 0.3" */
static char *
name_adding (const SbBench *before, const SbBench *after)
{
  guint n = after->configurations->len - before->configurations->len;
  if (n == 1)
    return g_strdup_printf ("add %s", sb_bench_configuration (after, after->configurations->len - 1)->name);
  return g_strdup_printf ("add %u configurations", n);
}

typedef struct {
  SbDocument *document; /* owned */
  SbBench *base;        /* what it was added to */
  GStrv paths;
} Addition;

static void
addition_free (Addition *addition)
{
  g_object_unref (addition->document);
  sb_bench_unref (addition->base);
  g_strfreev (addition->paths);
  g_free (addition);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Addition, addition_free)

static void
added (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (Addition) addition = user_data;
  SbDocument *document = addition->document;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbBench) edited = sb_loader_add_finish (result, &error);
  document->n_adding--;
  if (g_cancellable_is_cancelled (document->cancellable))
    return;
  if (edited != NULL && sb_document_bench (document) != addition->base) {
    /* The person went on meanwhile: add to what stands now. */
    g_queue_push_head (document->waiting, g_steal_pointer (&addition->paths));
  } else {
    if (edited != NULL) {
      g_autofree char *step = name_adding (addition->base, edited);
      sb_history_push (document->history, g_steal_pointer (&edited), step);
      if (sb_bench_is_empty (addition->base) && document->path == NULL)
        sb_history_mark_saved (document->history);
      expect_cut (document);
      choices_changed (document);
    }
    if (error != NULL)
      tell_failure (document, error->message);
  }
  add_next (document);
  emit (document, BUSY_CHANGED);
}

static void
add_next (SbDocument *document)
{
  if (document->n_adding > 0 || g_queue_is_empty (document->waiting))
    return;
  Addition *addition = g_new0 (Addition, 1);
  addition->document = g_object_ref (document);
  addition->base = sb_bench_ref (sb_document_bench (document));
  addition->paths = g_queue_pop_head (document->waiting);
  document->n_adding++;
  sb_loader_add_async (document->loader, addition->base, (const char *const *) addition->paths, document->cancellable,
                       added, addition);
}

void
sb_document_add (SbDocument *document, const char *const *paths)
{
  if (paths[0] == NULL)
    return;
  g_queue_push_tail (document->waiting, sb_paths_copy (paths));
  add_next (document);
  emit (document, BUSY_CHANGED);
}

static void
load_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr (GError) error = NULL;
  SbBench *bench = sb_session_load (data, &error);
  if (bench == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_pointer (task, bench, (GDestroyNotify) sb_bench_unref);
}

static void
loaded (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbDocument *document = SB_DOCUMENT (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbBench) bench = g_task_propagate_pointer (G_TASK (result), &error);
  document->n_adding--;
  if (g_cancellable_is_cancelled (document->cancellable))
    return;
  if (bench == NULL) {
    tell_failure (document, error->message);
  } else {
    sb_history_free (document->history);
    document->history = sb_history_new (bench);
    sb_history_mark_saved (document->history);
    g_free (document->path);
    document->path = g_strdup (g_task_get_task_data (G_TASK (result)));
    document->n_passed_over = bench->passed_over != NULL ? bench->passed_over->len : 0;
    g_clear_pointer (&document->results, sb_analysis_unref);
    expect_cut (document);
    choices_changed (document);
  }
  add_next (document);
  emit (document, BUSY_CHANGED);
}

void
sb_document_open (SbDocument *document, const char *path)
{
  g_autoptr (GTask) task = g_task_new (document, document->cancellable, loaded, NULL);
  g_task_set_task_data (task, g_strdup (path), g_free);
  document->n_adding++;
  g_task_run_in_thread (task, load_in_worker);
  emit (document, BUSY_CHANGED);
}

typedef struct {
  SbBench *bench;      /* the current one */
  SbBench *written;    /* the same with what is passed over */
  SbAnalysis *results; /* or NULL */
  char *path;
} Saving;

static void
saving_free (gpointer data)
{
  Saving *saving = data;
  sb_bench_unref (saving->bench);
  sb_bench_unref (saving->written);
  g_clear_pointer (&saving->results, sb_analysis_unref);
  g_free (saving->path);
  g_free (saving);
}

static void
save_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Saving *saving = data;
  g_autoptr (GError) error = NULL;
  if (sb_session_save (saving->written, saving->results, saving->path, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

void
sb_document_save_async (SbDocument *document, const char *path, GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (document, NULL, callback, user_data);
  Saving *saving = g_new0 (Saving, 1);
  saving->bench = sb_bench_ref (sb_document_bench (document));
  saving->written = sb_bench_edit (saving->bench);
  g_clear_pointer (&saving->written->passed_over, g_ptr_array_unref);
  saving->written->passed_over = sb_folder_watch_passed_over (document->watch);
  if (sb_document_results_are_current (document))
    saving->results = sb_analysis_ref (document->results);
  saving->path = g_strdup (path);
  g_task_set_task_data (task, saving, saving_free);
  g_task_run_in_thread (task, save_in_worker);
}

gboolean
sb_document_save_finish (SbDocument *document, GAsyncResult *result, GError **error)
{
  Saving *saving = g_task_get_task_data (G_TASK (result));
  if (!g_task_propagate_boolean (G_TASK (result), error))
    return FALSE;
  g_free (document->path);
  document->path = g_strdup (saving->path);
  document->n_passed_over = saving->written->passed_over->len;
  if (saving->bench == sb_document_bench (document))
    sb_history_mark_saved (document->history);
  emit (document, BENCH_CHANGED);
  return TRUE;
}

const char *
sb_document_path (SbDocument *document)
{
  return document->path;
}

char *
sb_document_name (SbDocument *document)
{
  if (document->path == NULL)
    return g_strdup ("New session");
  g_autofree char *base = g_filename_display_basename (document->path);
  if (g_str_has_suffix (base, SB_SESSION_SUFFIX))
    return g_strndup (base, strlen (base) - strlen (SB_SESSION_SUFFIX));
  return g_steal_pointer (&base);
}

gboolean
sb_document_is_saved (SbDocument *document)
{
  if (!sb_history_is_saved (document->history))
    return FALSE;
  if (document->path == NULL)
    return TRUE;
  /* A log that came by itself and was taken out again would come again. */
  g_autoptr (GPtrArray) passed_over = sb_folder_watch_passed_over (document->watch);
  return passed_over->len == document->n_passed_over;
}

gboolean
sb_document_busy (SbDocument *document, gsize *n_done, gsize *n_total)
{
  return sb_loader_progress (document->loader, n_done, n_total) || document->n_adding > 0;
}

void
sb_document_stop (SbDocument *document)
{
  g_queue_clear_full (document->waiting, (GDestroyNotify) g_strfreev);
  sb_loader_stop (document->loader);
}

void
sb_document_read_again (SbDocument *document)
{
  choices_changed (document);
}

void
sb_document_read_anew (SbDocument *document, const char *const *paths)
{
  for (gsize i = 0; paths[i] != NULL; i++)
    sb_loader_forget (document->loader, paths[i]);
  document->complete = FALSE;
  expect_cut (document); /* a log that was read half may have had one step then */
  choices_changed (document);
}

SbNews *
sb_document_news (SbDocument *document)
{
  return document->news;
}

void
sb_document_tell_news (SbDocument *document)
{
  emit (document, NEWS_CHANGED);
}

SbFolderWatch *
sb_document_watch (SbDocument *document)
{
  return document->watch;
}

void
sb_document_close (SbDocument *document)
{
  g_signal_handlers_disconnect_by_data (document->watch, document);
  sb_folder_watch_close (document->watch);
  g_cancellable_cancel (document->cancellable);
  g_signal_handlers_disconnect_by_data (document->loader, document);
  sb_loader_abandon (document->loader);
}

static void
sb_document_dispose (GObject *object)
{
  SbDocument *document = SB_DOCUMENT (object);
  if (document->loader != NULL)
    sb_document_close (document);
  g_clear_object (&document->loader);
  g_clear_object (&document->watch);
  G_OBJECT_CLASS (sb_document_parent_class)->dispose (object);
}

static void
sb_document_finalize (GObject *object)
{
  SbDocument *document = SB_DOCUMENT (object);
  g_queue_free_full (document->waiting, (GDestroyNotify) g_strfreev);
  g_clear_pointer (&document->results, sb_analysis_unref);
  sb_history_free (document->history);
  g_object_unref (document->cancellable);
  g_free (document->path);
  sb_news_free (document->news);
  sb_due_cut_forget (&document->due_cut);
  G_OBJECT_CLASS (sb_document_parent_class)->finalize (object);
}

static void
sb_document_class_init (SbDocumentClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  object_class->dispose = sb_document_dispose;
  object_class->finalize = sb_document_finalize;
  static const char *const names[] = { "bench-changed", "results-changed", "busy-changed", "news-changed", "stopped" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    signals[i] = g_signal_new (names[i], SB_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FAILED] = g_signal_new ("failed", SB_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                  G_TYPE_STRING);
}

static void
sb_document_init (SbDocument *document)
{
  g_autoptr (SbBench) empty = sb_bench_new ();
  document->history = sb_history_new (empty);
  sb_history_mark_saved (document->history);
  document->waiting = g_queue_new ();
  document->cancellable = g_cancellable_new ();
  document->loader = sb_loader_new ();
  document->watch = sb_folder_watch_new ();
  document->news = sb_news_new ();
  sb_joining_connect (document, document->watch);
  g_signal_connect (document->loader, "results", G_CALLBACK (on_results), document);
  g_signal_connect (document->loader, "progress", G_CALLBACK (on_progress), document);
  g_signal_connect (document->loader, "stopped", G_CALLBACK (on_stopped), document);
}

SbDocument *
sb_document_new (void)
{
  return g_object_new (SB_TYPE_DOCUMENT, NULL);
}
