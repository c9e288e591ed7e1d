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
  GHashTable *asked;     /* set of signatures and of paths */
  GtkWidget *sheet;      /* NULL: none is open; weak */
  GCancellable *looking; /* at an unread log; NULL: at none */
  guint source;          /* to ask, when what the results change is shown */
};

static void ask_next (SbImportAsking *asking);

/* TRUE when it was not in the set. */
static gboolean
note (GHashTable *asked, const char *what)
{
  return g_hash_table_add (asked, g_strdup (what));
}

static gboolean
is_question (SbLayout *layout, GHashTable *asked)
{
  /* Lent to a draft, not copied: this is asked of every log after every change. */
  const SbImportDraft draft = { .fixed = SB_DIALECT_AUTOMATIC, .layout = layout };
  if (layout == NULL || sb_import_draft_n_uncertain (&draft) == 0)
    return FALSE;
  g_autofree char *signature = sb_layout_signature (layout);
  return note (asked, signature);
}

/* The data speak against a unit that was assumed. */
static gboolean
is_contradicted (const SbTrialFacts *facts, GHashTable *asked)
{
  if (!facts->asks_for_units || facts->layout == NULL)
    return FALSE;
  g_autofree char *signature = sb_layout_signature (facts->layout);
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
      if (*unread ? note (asked, trial->path)
                  : trial->facts != NULL
                        && (is_question (trial->facts->layout, asked) || is_contradicted (trial->facts, asked)))
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
  g_autoptr (GCancellable) looking = g_steal_pointer (&asking->looking);
  const char *path = g_object_get_data (G_OBJECT (looking), "path");
  if (asking->sheet != NULL) /* a person opened one meanwhile: this log's turn comes again */
    g_hash_table_remove (asking->asked, path);
  else if (look->proposal != NULL && is_question (look->proposal->layout, asking->asked))
    sb_import_asking_open (asking, path);
  else
    ask_next (asking);
}

/* Why a log could not be read is told as text; whether a value is missing, a look at it shows. */
static void
look_at_unread (SbImportAsking *asking, const char *path)
{
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  asking->looking = g_cancellable_new ();
  g_object_set_data_full (G_OBJECT (asking->looking), "path", g_strdup (path), g_free);
  sb_import_look_async (path, &fixed, NULL, asking->looking, looked, asking);
}

static void
ask_next (SbImportAsking *asking)
{
  if (asking->sheet != NULL || asking->looking != NULL || !sb_document_results_are_current (asking->document))
    return;
  gboolean unread;
  const char *path = sb_import_question_next (sb_document_results (asking->document), asking->asked, &unread);
  if (path != NULL && unread)
    look_at_unread (asking, path);
  else if (path != NULL)
    sb_import_asking_open (asking, path);
}

static gboolean
on_due (gpointer user_data)
{
  SbImportAsking *asking = user_data;
  asking->source = 0;
  ask_next (asking);
  return G_SOURCE_REMOVE;
}

/* Every log is looked at: the curves come first. */
static void
on_results_changed (SbDocument *document, SbImportAsking *asking)
{
  if (asking->source == 0)
    asking->source = g_idle_add (on_due, asking);
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
  g_clear_handle_id (&asking->source, g_source_remove);
  if (asking->sheet != NULL) {
    g_signal_handlers_disconnect_by_data (asking->sheet, asking);
    g_object_weak_unref (G_OBJECT (asking->sheet), on_sheet_gone, asking);
  }
  if (asking->looking != NULL)
    g_cancellable_cancel (asking->looking);
  g_clear_object (&asking->looking);
  g_hash_table_unref (asking->asked);
  g_free (asking);
}
