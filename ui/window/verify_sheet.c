/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_sheet.h"

#include "draw_again.h"
#include "file_choice.h"
#include "proof_file.h"
#include "session_folders.h"
#include "sheet.h"
#include "verify.h"
#include "window.h"

#define WIDTH  640
#define HEIGHT 560

#define SB_TYPE_VERIFY_SHEET (sb_verify_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbVerifySheet, sb_verify_sheet, SB, VERIFY_SHEET, GtkWindow)

struct _SbVerifySheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  char *path;
  GtkWidget *spinner, *text, *look, *open;
  GCancellable *cancellable;
  SbBench *bench; /* of the proof, with the logs that were found; NULL: none */
};

G_DEFINE_FINAL_TYPE (SbVerifySheet, sb_verify_sheet, GTK_TYPE_WINDOW)

typedef struct {
  char *path;
  GPtrArray
      *folders; /* char *: looked through one after another until no log is missing; none: beside the file alone */
} Question;

static void
question_free (gpointer data)
{
  Question *question = data;
  g_free (question->path);
  g_ptr_array_unref (question->folders);
  g_free (question);
}

/* `folder` NULL: beside the file alone. (transfer full) */
static SbVerification *
verify_with (const Question *question, const char *folder, GCancellable *cancellable, GError **error)
{
  SbProof *proof = sb_proof_read_file (question->path, error);
  g_autofree char *beside = g_path_get_dirname (question->path);
  return proof != NULL ? sb_verify (proof, beside, folder, cancellable, error) : NULL;
}

static void
verify_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  GError *error = NULL;
  SbVerification *verification = verify_with (question, NULL, cancellable, &error);
  for (guint i = 0; verification != NULL && verification->n_missing > 0 && i < question->folders->len; i++) {
    SbVerification *other = verify_with (question, g_ptr_array_index (question->folders, i), cancellable, NULL);
    if (other != NULL && other->n_missing < verification->n_missing) {
      SbVerification *worse = verification;
      verification = other;
      other = worse;
    }
    sb_verification_free (other);
  }
  if (verification != NULL)
    sb_draw_again (verification, question->path);
  if (verification != NULL)
    g_task_return_pointer (task, verification, (GDestroyNotify) sb_verification_free);
  else
    g_task_return_error (task, error);
}

static GtkWidget *
add_paragraph (SbVerifySheet *sheet, const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_focusable (label, FALSE);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (sheet->text), label);
  return label;
}

static void
add_part (SbVerifySheet *sheet, const char *name, const char *text)
{
  gtk_widget_set_margin_top (add_paragraph (sheet, name, "field-name"), 9);
  add_paragraph (sheet, text, NULL);
}

static void
clear_text (SbVerifySheet *sheet)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (sheet->text)) != NULL)
    gtk_box_remove (GTK_BOX (sheet->text), child);
}

static void
show_words (SbVerifySheet *sheet, const SbVerification *verification)
{
  g_autoptr (SbVerificationWords) words = sb_verification_words (verification);
  add_paragraph (sheet, words->outcome, "title-4");
  add_part (sheet, "What made it", words->made);
  add_part (sheet, "Choices", words->choices);
  add_part (sheet, "Logs", words->logs);
  add_part (sheet, "Figures", words->figures);
  if (words->picture != NULL)
    add_part (sheet, "Picture", words->picture);
  if (words->details->len > 0)
    gtk_widget_set_margin_top (add_paragraph (sheet, "In detail", "field-name"), 9);
  for (guint i = 0; i < words->details->len; i++)
    add_paragraph (sheet, g_ptr_array_index (words->details, i), "numeric");
}

static void
on_verified (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbVerifySheet *sheet = SB_VERIFY_SHEET (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbVerification) verification = g_task_propagate_pointer (G_TASK (result), &error);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  gtk_spinner_stop (GTK_SPINNER (sheet->spinner));
  clear_text (sheet);
  if (verification == NULL) {
    g_autofree char *sentence = g_strdup_printf ("%s.", error->message);
    add_paragraph (sheet, sentence, "title-4");
    gtk_widget_set_sensitive (sheet->look, FALSE);
    return;
  }
  show_words (sheet, verification);
  gsize n_found = verification->n_same + verification->n_changed;
  sheet->bench = n_found > 0 ? sb_bench_ref (verification->bench) : NULL;
  gtk_widget_set_sensitive (sheet->open, n_found > 0);
  gtk_widget_set_sensitive (sheet->look, TRUE);
}

/* Takes over `folders`. */
static void
begin (SbVerifySheet *sheet, GPtrArray *folders)
{
  g_clear_pointer (&sheet->bench, sb_bench_unref);
  gtk_widget_set_sensitive (sheet->open, FALSE);
  gtk_widget_set_sensitive (sheet->look, FALSE);
  gtk_spinner_start (GTK_SPINNER (sheet->spinner));
  clear_text (sheet);
  add_paragraph (sheet, "Reading the logs and working the figures out anew…", "dim-label");
  Question *question = g_new0 (Question, 1);
  question->path = g_strdup (sheet->path);
  question->folders = folders;
  g_autoptr (GTask) task = g_task_new (sheet, sheet->cancellable, on_verified, NULL);
  g_task_set_task_data (task, question, question_free);
  g_task_run_in_thread (task, verify_in_worker);
}

static void
on_folder_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  GPtrArray *folders = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (folders, g_strdup (paths[0]));
  begin (SB_VERIFY_SHEET (parent), folders);
}

static void
on_look (GtkButton *button, SbVerifySheet *sheet)
{
  SbFileQuestion question = {
    .title = "Folder that holds the logs",
    .action = GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
  };
  sb_file_choice_ask (GTK_WINDOW (sheet), &question, on_folder_chosen, NULL);
}

/* A session that is open stays: the next saving would write the bench over its file. */
static SbDocument *
blank_document (SbVerifySheet *sheet)
{
  if (sb_document_is_blank (sheet->document))
    return sheet->document;
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (sheet));
  GtkWidget *other = sb_window_new (gtk_window_get_application (parent));
  gtk_window_present (GTK_WINDOW (other));
  return sb_window_document (SB_WINDOW (other));
}

static void
on_open (GtkButton *button, SbVerifySheet *sheet)
{
  if (sheet->bench == NULL)
    return;
  g_autofree char *name = g_filename_display_basename (sheet->path);
  g_autofree char *step = g_strdup_printf ("Open the bench of %s", name);
  sb_document_push (blank_document (sheet), g_steal_pointer (&sheet->bench), step);
  gtk_window_close (GTK_WINDOW (sheet));
}

static void
sb_verify_sheet_dispose (GObject *object)
{
  SbVerifySheet *sheet = SB_VERIFY_SHEET (object);
  g_cancellable_cancel (sheet->cancellable);
  g_clear_pointer (&sheet->bench, sb_bench_unref);
  g_clear_object (&sheet->document);
  G_OBJECT_CLASS (sb_verify_sheet_parent_class)->dispose (object);
}

static void
sb_verify_sheet_finalize (GObject *object)
{
  SbVerifySheet *sheet = SB_VERIFY_SHEET (object);
  g_clear_object (&sheet->cancellable);
  g_free (sheet->path);
  G_OBJECT_CLASS (sb_verify_sheet_parent_class)->finalize (object);
}

static void
sb_verify_sheet_class_init (SbVerifySheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_verify_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_verify_sheet_finalize;
}

static GtkWidget *
make_foot (SbVerifySheet *sheet)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  sheet->look = gtk_button_new_with_label ("Look for the logs in a folder…");
  sheet->spinner = gtk_spinner_new ();
  g_signal_connect (sheet->look, "clicked", G_CALLBACK (on_look), sheet);
  gtk_box_append (GTK_BOX (foot), sheet->look);
  gtk_box_append (GTK_BOX (foot), sheet->spinner);
  return foot;
}

static void
sb_verify_sheet_init (SbVerifySheet *sheet)
{
  sheet->cancellable = g_cancellable_new ();
  sheet->open = gtk_button_new_with_label ("Open its bench");
  g_signal_connect (sheet->open, "clicked", G_CALLBACK (on_open), sheet);
  sb_sheet_set_buttons_to_close (GTK_WINDOW (sheet), sheet->open);
  sb_sheet_set_up (GTK_WINDOW (sheet));
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH, HEIGHT);
  GtkWidget *scrolled = gtk_scrolled_window_new (), *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  sheet->text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), sheet->text);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (all), scrolled);
  gtk_box_append (GTK_BOX (all), make_foot (sheet));
  gtk_widget_add_css_class (all, "sheet");
  gtk_window_set_child (GTK_WINDOW (sheet), all);
}

void
sb_verify_sheet_present (GtkWindow *parent, SbDocument *document, const char *path)
{
  SbVerifySheet *sheet = g_object_new (SB_TYPE_VERIFY_SHEET, "transient-for", parent, NULL);
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *title = g_strdup_printf ("%s – what made it", name);
  gtk_window_set_title (GTK_WINDOW (sheet), title);
  sheet->document = g_object_ref (document);
  sheet->path = g_canonicalize_filename (path, NULL);
  begin (sheet, sb_session_folders (sb_document_bench (document)));
  gtk_window_present (GTK_WINDOW (sheet));
}
