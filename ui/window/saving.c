/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "saving.h"

#include "file_choice.h"
#include "session.h"
#include "sheet.h"

static const char *const session_patterns[] = { "*" SB_SESSION_SUFFIX, NULL };

static SbDocument *
document_of (SbWindow *window)
{
  return sb_window_document (window);
}

typedef struct {
  SbWindow *window; /* owned */
  char *path;
  gboolean close; /* when it is saved */
} Saving;

static void
saving_free (Saving *saving)
{
  g_object_unref (saving->window);
  g_free (saving->path);
  g_free (saving);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Saving, saving_free)

static void ask_about_changes (Saving *saving);

static void
saved (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (Saving) saving = user_data;
  SbWindow *window = saving->window;
  g_autoptr (GError) error = NULL;
  if (sb_document_save_finish (SB_DOCUMENT (source), result, &error)) {
    if (saving->close && !sb_document_has_unsaved_work (SB_DOCUMENT (source))) {
      sb_window_close_now (window);
      return;
    }
    g_autofree char *shown = g_filename_display_name (sb_document_path (SB_DOCUMENT (source)));
    g_autofree char *text = g_strdup_printf ("The session is saved: %s", shown);
    sb_window_tell (window, GTK_MESSAGE_INFO, text);
  } else if (g_error_matches (error, SB_SESSION_ERROR, SB_SESSION_ERROR_CHANGED)) {
    ask_about_changes (g_steal_pointer (&saving));
  } else {
    sb_window_tell (window, GTK_MESSAGE_ERROR, error->message);
  }
}

static void
save_to (SbWindow *window, const char *path, SbOverChanges over, gboolean close)
{
  Saving *saving = g_new0 (Saving, 1);
  saving->window = g_object_ref (window);
  saving->path = g_strdup (path);
  saving->close = close;
  sb_document_save_async (document_of (window), path, over, saved, saving);
}

/* The chooser has asked whether a file that is there may be written over. */
static void
on_save_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  save_to (SB_WINDOW (parent), paths[0], SB_OVER_CHANGES_ASK, GPOINTER_TO_INT (user_data));
}

static void
ask_where_to_save (SbWindow *window, gboolean close)
{
  g_autofree char *name = sb_document_name (document_of (window));
  g_autofree char *file = g_strconcat (name, SB_SESSION_SUFFIX, NULL);
  SbFileQuestion question = {
    .title = "Save the session",
    .action = GTK_FILE_CHOOSER_ACTION_SAVE,
    .suggested_name = file,
    .ending = SB_SESSION_SUFFIX,
    .filter_name = "Sessions",
    .patterns = session_patterns,
  };
  sb_file_choice_ask (GTK_WINDOW (window), &question, on_save_chosen, GINT_TO_POINTER (close));
}

static void
save_or_ask (SbWindow *window, gboolean close)
{
  const char *path = sb_document_path (document_of (window));
  if (path != NULL)
    save_to (window, path, SB_OVER_CHANGES_ASK, close);
  else
    ask_where_to_save (window, close);
}

enum { WRITE_OVER = 1, WRITE_ELSEWHERE, OPEN_THE_OTHER };

static void
open_in_new_window (SbWindow *window, const char *path)
{
  GtkWidget *other = sb_window_new (gtk_window_get_application (GTK_WINDOW (window)));
  const char *const paths[] = { path, NULL };
  sb_window_open (SB_WINDOW (other), paths);
  gtk_window_present (GTK_WINDOW (other));
}

static void
on_changes_answer (GtkDialog *dialog, int answer, Saving *saving)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (answer == WRITE_OVER)
    save_to (saving->window, saving->path, SB_OVER_CHANGES_WRITE, saving->close);
  else if (answer == WRITE_ELSEWHERE)
    ask_where_to_save (saving->window, saving->close);
  else if (answer == OPEN_THE_OTHER)
    open_in_new_window (saving->window, saving->path);
}

static void
saving_gone (gpointer data, GClosure *closure)
{
  saving_free (data);
}

/* Takes over `saving`. */
static void
ask_about_changes (Saving *saving)
{
  g_autofree char *name = g_filename_display_basename (saving->path);
  GtkWidget *dialog = gtk_message_dialog_new (
      GTK_WINDOW (saving->window), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_WARNING,
      GTK_BUTTONS_NONE, "“%s” was changed by another since it was opened here", name);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog),
                                            "Saving writes over what another window or program saved. The other "
                                            "session opens in a window of its own; nothing is lost by looking.");
  sb_dialog_add_answer (dialog, "Cancel", GTK_RESPONSE_CANCEL);
  sb_dialog_add_answer (dialog, "Open the other", OPEN_THE_OTHER);
  GtkWidget *over = sb_dialog_add_answer (dialog, "Save anyway", WRITE_OVER);
  gtk_widget_add_css_class (over, "destructive-action");
  GtkWidget *elsewhere = sb_dialog_add_answer (dialog, "Save as…", WRITE_ELSEWHERE);
  gtk_widget_add_css_class (elsewhere, "suggested-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), WRITE_ELSEWHERE);
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_changes_answer), saving, saving_gone, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

void
sb_saving_save (SbWindow *window)
{
  save_or_ask (window, FALSE);
}

void
sb_saving_save_as (SbWindow *window)
{
  ask_where_to_save (window, FALSE);
}

enum { CLOSE_WITHOUT_SAVING = 1, SAVE_AND_CLOSE };

static void
on_close_answer (GtkDialog *dialog, int answer, SbWindow *window)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (answer == CLOSE_WITHOUT_SAVING)
    sb_window_close_now (window);
  else if (answer == SAVE_AND_CLOSE)
    save_or_ask (window, TRUE);
}

void
sb_saving_ask_before_close (SbWindow *window)
{
  g_autofree char *name = sb_document_name (document_of (window));
  GtkWidget *dialog
      = gtk_message_dialog_new (GTK_WINDOW (window), GTK_DIALOG_MODAL | GTK_DIALOG_USE_HEADER_BAR, GTK_MESSAGE_QUESTION,
                                GTK_BUTTONS_NONE, "Save the changes to “%s”?", name);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog),
                                            "Choices made since it was last saved are lost otherwise. The logs are "
                                            "never changed.");
  sb_dialog_add_answer (dialog, "Close without saving", CLOSE_WITHOUT_SAVING);
  sb_dialog_add_answer (dialog, "Cancel", GTK_RESPONSE_CANCEL);
  GtkWidget *save_button = sb_dialog_add_answer (dialog, "Save", SAVE_AND_CLOSE);
  gtk_widget_add_css_class (save_button, "suggested-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), SAVE_AND_CLOSE);
  g_signal_connect_object (dialog, "response", G_CALLBACK (on_close_answer), window, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}
