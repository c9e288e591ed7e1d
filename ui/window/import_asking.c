/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import_asking.h"

#include "import_draft.h"
#include "import_look.h"
#include "import_sheet.h"

struct SbImportAsking {
  GtkWindow *parent;
  SbDocument *document;
  SbImportTold told;
  gpointer user_data;
  GHashTable *asked; /* set of signatures and of paths */
  GtkWidget *sheet;  /* NULL: none is open; weak */
  GCancellable *cancellable;
};

static void ask_next (SbImportAsking *asking);

/* TRUE when it was not in the set. */
static gboolean
note (GHashTable *asked, const char *what)
{
  return g_hash_table_add (asked, g_strdup (what));
}

static gboolean
is_question (const SbLayout *layout, GHashTable *asked)
{
  if (layout == NULL)
    return FALSE;
  g_autoptr (SbImportDraft) draft = sb_import_draft_new (NULL);
  sb_import_draft_take (draft, layout, NULL);
  if (sb_import_draft_n_uncertain (draft) == 0)
    return FALSE;
  g_autofree char *signature = sb_layout_signature (layout);
  return note (asked, signature);
}

const char *
sb_import_question_next (const SbAnalysis *results, GHashTable *asked, gboolean *unread)
{
  for (guint c = 0; c < results->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (results, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      *unread = trial->failure != NULL;
      if (*unread ? note (asked, trial->path) : trial->facts != NULL && is_question (trial->facts->layout, asked))
        return trial->path;
    }
  }
  return NULL;
}

static void
on_told (SbImportSheet *sheet, gboolean well, const char *what, SbImportAsking *asking)
{
  asking->told (well, what, asking->user_data);
}

static void
on_sheet_gone (gpointer user_data, GObject *sheet)
{
  SbImportAsking *asking = user_data;
  asking->sheet = NULL;
  ask_next (asking);
}

void
sb_import_asking_open (SbImportAsking *asking, const char *path)
{
  if (asking->sheet != NULL)
    return;
  asking->sheet = sb_import_sheet_new (asking->parent, asking->document, path);
  g_signal_connect (asking->sheet, "told", G_CALLBACK (on_told), asking);
  g_object_weak_ref (G_OBJECT (asking->sheet), on_sheet_gone, asking);
  gtk_window_present (GTK_WINDOW (asking->sheet));
}

static void
looked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SbImportLook) look = sb_import_look_finish (result);
  if (look == NULL)
    return; /* cancelled: the asking is gone */
  SbImportAsking *asking = user_data;
  const char *path = g_object_get_data (G_OBJECT (g_task_get_cancellable (G_TASK (result))), "path");
  g_autofree char *own = g_strdup (path);
  if (look->proposal != NULL && is_question (look->proposal->layout, asking->asked))
    sb_import_asking_open (asking, own);
  else
    ask_next (asking);
}

/* Why a log could not be read is told as text; whether a value is missing, a look at it shows. */
static void
look_at_unread (SbImportAsking *asking, const char *path)
{
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  g_clear_object (&asking->cancellable);
  asking->cancellable = g_cancellable_new ();
  g_object_set_data_full (G_OBJECT (asking->cancellable), "path", g_strdup (path), g_free);
  sb_import_look_async (path, &fixed, NULL, asking->cancellable, looked, asking);
}

static void
ask_next (SbImportAsking *asking)
{
  if (asking->sheet != NULL || !sb_document_results_are_current (asking->document))
    return;
  gboolean unread;
  const char *path = sb_import_question_next (sb_document_results (asking->document), asking->asked, &unread);
  if (path != NULL && unread)
    look_at_unread (asking, path);
  else if (path != NULL)
    sb_import_asking_open (asking, path);
}

static void
on_results_changed (SbDocument *document, SbImportAsking *asking)
{
  ask_next (asking);
}

SbImportAsking *
sb_import_asking_new (GtkWindow *parent, SbDocument *document, SbImportTold told, gpointer user_data)
{
  SbImportAsking *asking = g_new0 (SbImportAsking, 1);
  asking->parent = parent;
  asking->document = document;
  asking->told = told;
  asking->user_data = user_data;
  asking->asked = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_signal_connect (document, "results-changed", G_CALLBACK (on_results_changed), asking);
  return asking;
}

void
sb_import_asking_free (SbImportAsking *asking)
{
  g_signal_handlers_disconnect_by_data (asking->document, asking);
  if (asking->sheet != NULL) {
    g_signal_handlers_disconnect_by_data (asking->sheet, asking);
    g_object_weak_unref (G_OBJECT (asking->sheet), on_sheet_gone, asking);
  }
  if (asking->cancellable != NULL)
    g_cancellable_cancel (asking->cancellable);
  g_clear_object (&asking->cancellable);
  g_hash_table_unref (asking->asked);
  g_free (asking);
}
