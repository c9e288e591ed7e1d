/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document and its file: opened, saved, named, and whether anything would be lost. */
#include "document_parts.h"

#include "session.h"
#include "session_io.h"

#include <string.h>

/* Everything is what `bench` says from here on. */
static void
begin_with (SbDocument *document, SbBench *bench, const char *path, const char *digest)
{
  sb_history_free (document->history);
  document->history = sb_history_new (bench);
  g_free (document->path);
  document->path = g_strdup (path);
  g_free (document->digest);
  document->digest = g_strdup (digest);
  g_clear_pointer (&document->results, sb_analysis_unref);
  g_clear_pointer (&document->passed_over, g_ptr_array_unref);
  sb_folder_watch_follow (document->watch, bench);
  if (path != NULL)
    document->passed_over = sb_folder_watch_passed_over (document->watch);
  sb_document_expect_cut (document);
}

static void
loaded (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbDocument *document = SB_DOCUMENT (source);
  g_autoptr (GError) error = NULL;
  const SbSessionIo *io = sb_session_io_finish (result, &error);
  if (g_cancellable_is_cancelled (document->cancellable))
    return;
  if (io == NULL) {
    sb_document_tell_failure (document, error->message);
  } else {
    begin_with (document, io->bench, io->path, io->digest);
    sb_document_follow_choices (document);
  }
  sb_adding_end (document->adding);
}

void
sb_document_open (SbDocument *document, const char *path)
{
  sb_session_io_read_async (G_OBJECT (document), path, document->cancellable, loaded, NULL);
  sb_adding_begin (document->adding);
}

void
sb_document_recover (SbDocument *document, SbBench *bench, const char *path, const char *digest)
{
  begin_with (document, bench, path, digest);
  sb_history_mark_unsaved (document->history);
  sb_document_follow_choices (document);
}

SbBench *
sb_document_bench_to_write (SbDocument *document)
{
  SbBench *written = sb_bench_edit (sb_document_bench (document));
  g_clear_pointer (&written->passed_over, g_ptr_array_unref);
  written->passed_over = sb_folder_watch_passed_over (document->watch);
  return written;
}

void
sb_document_save_async (SbDocument *document, const char *path, SbOverChanges over, GAsyncReadyCallback callback,
                        gpointer user_data)
{
  SbSessionIo *io = g_new0 (SbSessionIo, 1);
  io->bench = sb_bench_ref (sb_document_bench (document));
  io->written = sb_document_bench_to_write (document);
  if (sb_document_results_are_current (document))
    io->results = sb_analysis_ref (document->results);
  io->path = g_strdup (path);
  if (over == SB_OVER_CHANGES_ASK && g_strcmp0 (path, document->path) == 0)
    io->expected = g_strdup (document->digest);
  document->n_saving++;
  sb_session_io_write_async (G_OBJECT (document), io, callback, user_data);
}

gboolean
sb_document_save_finish (SbDocument *document, GAsyncResult *result, GError **error)
{
  const SbSessionIo *io = sb_session_io_finish (result, error);
  document->n_saving--;
  if (io == NULL)
    return FALSE;
  g_free (document->path);
  document->path = g_strdup (io->path);
  g_free (document->digest);
  document->digest = g_strdup (io->digest);
  g_clear_pointer (&document->passed_over, g_ptr_array_unref);
  document->passed_over = g_ptr_array_ref (io->written->passed_over);
  if (io->bench == sb_document_bench (document))
    sb_history_mark_saved (document->history);
  sb_document_tell_changed (document);
  return TRUE;
}

const char *
sb_document_digest (SbDocument *document)
{
  return document->digest;
}

gboolean
sb_document_is_saving (SbDocument *document)
{
  return document->n_saving > 0;
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

static gboolean
same_paths (const GPtrArray *a, const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (strcmp (g_ptr_array_index (a, i), g_ptr_array_index (b, i)) != 0)
      return FALSE;
  return TRUE;
}

gboolean
sb_document_is_saved (SbDocument *document)
{
  if (!sb_history_is_saved (document->history))
    return FALSE;
  if (document->passed_over == NULL)
    return TRUE;
  /* A log that came by itself and was taken out again would come again. */
  g_autoptr (GPtrArray) passed_over = sb_folder_watch_passed_over (document->watch);
  return same_paths (passed_over, document->passed_over);
}

gboolean
sb_document_is_blank (SbDocument *document)
{
  gsize n_done, n_total;
  return document->path == NULL && sb_bench_is_empty (sb_document_bench (document))
         && sb_document_undo_step (document) == NULL && sb_document_redo_step (document) == NULL
         && !sb_document_busy (document, &n_done, &n_total);
}

gboolean
sb_document_has_unsaved_work (SbDocument *document)
{
  gboolean is_blank = document->path == NULL && sb_bench_is_empty (sb_document_bench (document));
  return !is_blank && !sb_document_is_saved (document);
}
