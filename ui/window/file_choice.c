/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_choice.h"

#include "sheet.h"

typedef struct {
  SbFilesChosen chosen;
  gpointer user_data;
  char *ending; /* NULL: names stay as they are */
} Answer;

static void
answer_free (gpointer data, GClosure *closure)
{
  Answer *answer = data;
  g_free (answer->ending);
  g_free (answer);
}

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

/* A name with its ending that somebody may not have meant to replace. */
typedef struct {
  Answer answer;
  char *path;
} Doubtful;

static void
doubtful_free (gpointer data, GClosure *closure)
{
  Doubtful *doubtful = data;
  g_free (doubtful->path);
  g_free (doubtful);
}

static void
on_replace (GtkDialog *dialog, int response, Doubtful *doubtful)
{
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (dialog));
  const char *const paths[] = { doubtful->path, NULL };
  if (response == GTK_RESPONSE_ACCEPT)
    doubtful->answer.chosen (parent, paths, doubtful->answer.user_data);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* The chooser asked about the name as it was typed; takes `path` over. */
static void
ask_to_replace (GtkWindow *parent, char *path, const Answer *answer)
{
  g_autofree char *name = g_filename_display_basename (path);
  GtkWidget *dialog
      = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
                                GTK_BUTTONS_NONE, "“%s” is there already. Is it to be replaced?", name);
  sb_dialog_add_answer (dialog, "Cancel", GTK_RESPONSE_CANCEL);
  GtkWidget *replace = sb_dialog_add_answer (dialog, "Replace", GTK_RESPONSE_ACCEPT);
  gtk_widget_add_css_class (replace, "destructive-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_CANCEL);
  Doubtful *doubtful = g_new (Doubtful, 1);
  *doubtful = (Doubtful){ { answer->chosen, answer->user_data, NULL }, path };
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_replace), doubtful, doubtful_free, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
give_answer (GtkWindow *parent, const char *const *paths, const Answer *answer)
{
  g_autofree char *lower = g_ascii_strdown (paths[0], -1);
  if (answer->ending == NULL || g_str_has_suffix (lower, answer->ending)) {
    answer->chosen (parent, paths, answer->user_data);
    return;
  }
  char *path = g_strconcat (paths[0], answer->ending, NULL);
  const char *const ended[] = { path, NULL };
  if (g_file_test (path, G_FILE_TEST_EXISTS)) {
    ask_to_replace (parent, path, answer);
    return;
  }
  answer->chosen (parent, ended, answer->user_data);
  g_free (path);
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
      give_answer (parent, (const char *const *) paths, answer);
  }
  gtk_native_dialog_destroy (dialog);
  g_object_unref (dialog);
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
  answer->ending = save ? g_strdup (question->ending) : NULL;
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_response), answer, answer_free, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}
