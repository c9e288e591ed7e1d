/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_choice.h"

typedef struct {
  SbFilesChosen chosen;
  gpointer user_data;
} Answer;

/* The local paths of a list of files; others cannot be read by the importer. (transfer full) */
static GStrv
paths_of (GListModel *files)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  for (guint i = 0; i < g_list_model_get_n_items (files); i++) {
    g_autoptr (GFile) file = g_list_model_get_item (files, i);
    if (g_file_peek_path (file) != NULL)
      g_strv_builder_add (builder, g_file_peek_path (file));
  }
  return g_strv_builder_end (builder);
}

static void
on_response (GtkNativeDialog *dialog, int response, Answer *answer)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GListModel) files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (dialog));
    g_auto (GStrv) paths = paths_of (files);
    GtkWindow *parent = gtk_native_dialog_get_transient_for (dialog);
    gtk_native_dialog_hide (dialog);
    if (paths[0] != NULL)
      answer->chosen (parent, (const char *const *) paths, answer->user_data);
  }
  gtk_native_dialog_destroy (dialog);
  g_object_unref (dialog);
}

static void
answer_free (gpointer data, GClosure *closure)
{
  g_free (data);
}

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *const *patterns)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  gtk_file_filter_set_name (filter, name);
  for (guint i = 0; patterns[i] != NULL; i++)
    gtk_file_filter_add_pattern (filter, patterns[i]);
  gtk_file_chooser_add_filter (chooser, filter);
}

void
sb_file_choice_ask (GtkWindow *parent, const SbFileQuestion *question, SbFilesChosen chosen, gpointer user_data)
{
  gboolean save = question->action == GTK_FILE_CHOOSER_ACTION_SAVE;
  GtkFileChooserNative *dialog
      = gtk_file_chooser_native_new (question->title, parent, question->action, save ? "_Save" : "_Open", "_Cancel");
  GtkFileChooser *chooser = GTK_FILE_CHOOSER (dialog);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  gtk_file_chooser_set_select_multiple (chooser, question->several);
  if (save && question->suggested_name != NULL)
    gtk_file_chooser_set_current_name (chooser, question->suggested_name);
  if (question->filter_name != NULL) {
    static const char *const every[] = { "*", NULL };
    add_filter (chooser, question->filter_name, question->patterns);
    add_filter (chooser, "Every file", every);
  }
  Answer *answer = g_new0 (Answer, 1);
  answer->chosen = chosen;
  answer->user_data = user_data;
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_response), answer, answer_free, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}
