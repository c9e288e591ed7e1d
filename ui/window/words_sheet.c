/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "words_sheet.h"

#include "judgement_edits.h"
#include "sheet.h"
#include "verdict_words.h"

#define WIDTH       560
#define ROWS_HEIGHT 380

#define SB_TYPE_WORDS_SHEET (sb_words_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbWordsSheet, sb_words_sheet, SB, WORDS_SHEET, GtkWindow)

struct _SbWordsSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  GtkWidget **own;      /* an entry for each usual word, in their order */
  GtkWidget *accept, *said;
};

G_DEFINE_FINAL_TYPE (SbWordsSheet, sb_words_sheet, GTK_TYPE_WINDOW)

static void
on_accept (SbWordsSheet *sheet)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func (g_free);
  for (gsize i = 0; i < sb_n_verdict_words (); i++)
    g_ptr_array_add (own, g_strdup (gtk_editable_get_text (GTK_EDITABLE (sheet->own[i]))));
  if (sb_edit_set_words (sheet->document, (const char *const *) own->pdata))
    gtk_window_destroy (GTK_WINDOW (sheet));
  else
    gtk_label_set_text (GTK_LABEL (sheet->said), "Two verdicts would be shown by the same words: each needs its own.");
}

static void
sb_words_sheet_finalize (GObject *object)
{
  SbWordsSheet *sheet = SB_WORDS_SHEET (object);
  g_clear_object (&sheet->document);
  g_free (sheet->own);
  G_OBJECT_CLASS (sb_words_sheet_parent_class)->finalize (object);
}

static void
sb_words_sheet_class_init (SbWordsSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_words_sheet_finalize;
}

static GtkWidget *
make_entry (SbWordsSheet *sheet, const char *usual)
{
  GtkWidget *entry = gtk_entry_new ();
  g_autofree char *name = g_strdup_printf ("Own words for “%s”", usual);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), usual);
  gtk_entry_set_max_length (GTK_ENTRY (entry), SB_VERDICT_WORDS_LONGEST);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  return entry;
}

static GtkWidget *
make_rows (SbWordsSheet *sheet)
{
  const char *const *usual = sb_verdict_words_usual ();
  GtkWidget *grid = gtk_grid_new (), *scrolled = gtk_scrolled_window_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  sheet->own = g_new0 (GtkWidget *, sb_n_verdict_words ());
  for (int i = 0; usual[i] != NULL; i++) {
    GtkWidget *label = gtk_label_new (usual[i]);
    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
    sheet->own[i] = make_entry (sheet, usual[i]);
    gtk_grid_attach (GTK_GRID (grid), label, 0, i, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), sheet->own[i], 1, i, 1, 1);
  }
  gtk_widget_set_margin_end (grid, 14); /* clear of the scroll bar */
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), ROWS_HEIGHT);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), grid);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static void
sb_words_sheet_init (SbWordsSheet *sheet)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  sheet->said = gtk_label_new ("Tables, charts, report and methods show your words, and the methods say what they "
                               "stand for. An empty field is the usual word. The JSON keeps the usual ones.");
  gtk_label_set_xalign (GTK_LABEL (sheet->said), 0);
  gtk_label_set_wrap (GTK_LABEL (sheet->said), TRUE);
  gtk_widget_add_css_class (sheet->said, "dim-label");
  gtk_widget_add_css_class (box, "sheet");
  gtk_box_append (GTK_BOX (box), make_rows (sheet));
  gtk_box_append (GTK_BOX (box), sheet->said);
  sheet->accept = gtk_button_new_with_label ("Set");
  g_signal_connect_swapped (sheet->accept, "clicked", G_CALLBACK (on_accept), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->accept);
  gtk_window_set_title (GTK_WINDOW (sheet), "Words of the verdicts");
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH, -1);
  gtk_window_set_child (GTK_WINDOW (sheet), box);
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

void
sb_words_sheet_present (GtkWindow *parent, SbDocument *document)
{
  SbWordsSheet *sheet = g_object_new (SB_TYPE_WORDS_SHEET, "transient-for", parent, NULL);
  const char *const *usual = sb_verdict_words_usual ();
  sheet->document = g_object_ref (document);
  for (gsize i = 0; usual[i] != NULL; i++) {
    const char *own = sb_bench_word (sb_document_bench (document), usual[i]);
    if (own != usual[i])
      gtk_editable_set_text (GTK_EDITABLE (sheet->own[i]), own);
  }
  gtk_window_present (GTK_WINDOW (sheet));
}
