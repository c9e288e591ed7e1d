/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document_parts.h"

#include "joining.h"
#include "let_go.h"

G_DEFINE_FINAL_TYPE (SbDocument, sb_document, G_TYPE_OBJECT)

enum { BENCH_CHANGED, RESULTS_CHANGED, BUSY_CHANGED, NEWS_CHANGED, STOPPED, FAILED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
emit (SbDocument *document, guint signal)
{
  g_signal_emit (document, signals[signal], 0);
}

void
sb_document_tell_failure (SbDocument *document, const char *what)
{
  g_signal_emit (document, signals[FAILED], 0, what);
}

void
sb_document_tell_changed (SbDocument *document)
{
  emit (document, BENCH_CHANGED);
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

void
sb_document_expect_cut (SbDocument *document)
{
  sb_due_cut_expect (&document->due_cut, sb_document_bench (document));
}

static void
on_results (SbLoader *loader, gpointer analysis, gboolean complete, SbDocument *document)
{
  sb_let_go (&document->results);
  document->results = sb_analysis_ref (analysis);
  document->complete = complete;
  if (sb_document_results_are_current (document)
      && sb_due_cut_make (&document->due_cut, document->results, document->history, document->news))
    sb_document_follow_choices (document); /* results of the cut logs are on their way */
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

void
sb_document_follow_choices (SbDocument *document)
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
  sb_document_follow_choices (document);
}

void
sb_document_take_in (SbDocument *document, SbBench *edited, const char *step)
{
  gboolean can_be_had_again = document->path == NULL && sb_document_is_saved (document);
  sb_history_push (document->history, edited, step);
  if (can_be_had_again)
    sb_history_mark_saved (document->history);
  sb_document_expect_cut (document);
  sb_document_follow_choices (document);
}

void
sb_document_take_added (SbDocument *document, SbBench *edited, const char *step, gboolean is_ours)
{
  gboolean first = sb_bench_is_empty (sb_document_bench (document)) && document->path == NULL;
  sb_history_push (document->history, edited, step);
  if (is_ours && first)
    sb_history_mark_saved (document->history);
  sb_document_expect_cut (document);
  sb_document_follow_choices (document);
}

void
sb_document_push_to_cut (SbDocument *document, SbBench *edited, const char *step)
{
  sb_history_push (document->history, edited, step);
  sb_document_expect_cut (document);
  sb_document_follow_choices (document);
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
  sb_document_follow_choices (document);
}

void
sb_document_redo (SbDocument *document)
{
  if (!sb_history_redo (document->history))
    return;
  sb_due_cut_forget (&document->due_cut);
  sb_document_follow_choices (document);
}

void
sb_document_add (SbDocument *document, const char *const *paths)
{
  sb_adding_want (document->adding, paths, FALSE);
}

void
sb_document_add_ours (SbDocument *document, const char *const *paths)
{
  sb_adding_want (document->adding, paths, TRUE);
}

gboolean
sb_document_busy (SbDocument *document, gsize *n_done, gsize *n_total)
{
  return sb_loader_progress (document->loader, n_done, n_total) || sb_adding_is_busy (document->adding);
}

void
sb_document_stop (SbDocument *document)
{
  sb_adding_clear (document->adding);
  sb_loader_stop (document->loader);
}

void
sb_document_read_again (SbDocument *document)
{
  sb_document_follow_choices (document);
}

void
sb_document_read_anew (SbDocument *document, const char *const *paths)
{
  for (gsize i = 0; paths[i] != NULL; i++)
    sb_loader_forget (document->loader, paths[i]);
  document->complete = FALSE;
  sb_document_expect_cut (document); /* a log that was read half may have had one step then */
  sb_document_follow_choices (document);
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
  sb_adding_free (document->adding);
  g_clear_pointer (&document->results, sb_analysis_unref);
  sb_history_free (document->history);
  g_object_unref (document->cancellable);
  g_free (document->path);
  g_free (document->digest);
  g_clear_pointer (&document->passed_over, g_ptr_array_unref);
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
  document->cancellable = g_cancellable_new ();
  document->loader = sb_loader_new ();
  document->adding = sb_adding_new (document, document->loader, document->cancellable);
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
