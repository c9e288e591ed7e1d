/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import_look.h"

typedef struct {
  char *path, *comment_prefix;
  SbDialectChoices fixed;
  SbLayout *layout;
} Question;

static void
question_free (gpointer data)
{
  Question *question = data;
  g_free (question->path);
  g_free (question->comment_prefix);
  sb_layout_unref (question->layout);
  g_free (question);
}

void
sb_import_look_free (SbImportLook *look)
{
  sb_proposal_free (look->proposal);
  sb_log_unref (look->log);
  sb_preview_free (look->preview);
  g_free (look->failure);
  g_free (look);
}

static void
look_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbImportLook) look = g_new0 (SbImportLook, 1);
  look->proposal = sb_propose_file (question->path, &question->fixed, cancellable, &error);
  if (look->proposal != NULL && question->layout != NULL) {
    SbReadOptions options = { .layout = question->layout, .fixed = &question->fixed };
    look->log = sb_log_read_with (question->path, &options, cancellable, NULL, NULL, &error);
    guint64 end_line = look->log != NULL ? look->log->end_line : 0;
    look->preview = sb_preview_read (question->path, question->layout, end_line, cancellable, NULL);
  }
  if (error != NULL)
    look->failure = g_strdup (error->message);
  g_task_return_pointer (task, g_steal_pointer (&look), (GDestroyNotify) sb_import_look_free);
}

void
sb_import_look_async (const char *path, const SbDialectChoices *fixed, SbLayout *layout, GCancellable *cancellable,
                      GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, user_data);
  Question *question = g_new0 (Question, 1);
  question->path = g_strdup (path);
  question->comment_prefix = g_strdup (fixed->comment_prefix);
  question->fixed = *fixed;
  question->fixed.comment_prefix = question->comment_prefix;
  question->layout = layout != NULL ? sb_layout_ref (layout) : NULL;
  g_task_set_task_data (task, question, question_free);
  g_task_run_in_thread (task, look_in_worker);
}

SbImportLook *
sb_import_look_finish (GAsyncResult *result)
{
  return g_task_propagate_pointer (G_TASK (result), NULL);
}
