/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_editor.h"

#include "layout_row.h"
#include "sheet.h"

#define WIDTH_PX  820
#define HEIGHT_PX 460

struct _SbLayoutEditor {
  GtkWindow parent_instance;
  SbImportDraft *draft;
  gboolean of_shape;
  GPtrArray *rows; /* SbLayoutRow */
  GtkWidget *name, *grid, *save;
};

G_DEFINE_FINAL_TYPE (SbLayoutEditor, sb_layout_editor, GTK_TYPE_WINDOW)

enum { EDITED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_row_changed (gpointer user_data)
{
  SbLayoutEditor *editor = user_data;
  for (guint i = 0; i < editor->rows->len; i++)
    sb_layout_row_show (g_ptr_array_index (editor->rows, i));
}

static void
on_save (GtkButton *button, SbLayoutEditor *editor)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (editor->name))));
  SbLayout *layout = sb_import_draft_confirmed (editor->draft);
  g_free (layout->name);
  layout->name = g_steal_pointer (&name);
  g_autoptr (SbLayoutChoice) choice = sb_layout_choice_new (layout, &editor->draft->fixed, editor->of_shape);
  g_signal_emit (editor, signals[EDITED], 0, choice);
  gtk_window_destroy (GTK_WINDOW (editor));
}

static void
sb_layout_editor_dispose (GObject *object)
{
  g_ptr_array_set_size (SB_LAYOUT_EDITOR (object)->rows, 0);
  G_OBJECT_CLASS (sb_layout_editor_parent_class)->dispose (object);
}

static void
sb_layout_editor_finalize (GObject *object)
{
  SbLayoutEditor *editor = SB_LAYOUT_EDITOR (object);
  g_ptr_array_unref (editor->rows);
  g_clear_pointer (&editor->draft, sb_import_draft_free);
  G_OBJECT_CLASS (sb_layout_editor_parent_class)->finalize (object);
}

static void
sb_layout_editor_class_init (SbLayoutEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_layout_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_layout_editor_finalize;
  signals[EDITED] = g_signal_new ("edited", SB_TYPE_LAYOUT_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                  1, G_TYPE_POINTER);
}

static void
sb_layout_editor_init (SbLayoutEditor *editor)
{
  editor->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_layout_row_free);
  editor->name = gtk_entry_new ();
  gtk_entry_set_activates_default (GTK_ENTRY (editor->name), TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (editor->name), "Name of the layout");
  gtk_accessible_update_property (GTK_ACCESSIBLE (editor->name), GTK_ACCESSIBLE_PROPERTY_LABEL, "Name of the layout",
                                  -1);
  editor->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (editor->grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (editor->grid), 4);
  gtk_widget_add_css_class (editor->grid, "layout-rows");
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), editor->grid);
  gtk_widget_set_vexpand (scrolled, TRUE);
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class (body, "import-sheet");
  gtk_box_append (GTK_BOX (body), editor->name);
  gtk_box_append (GTK_BOX (body), scrolled);
  editor->save = gtk_button_new_with_label ("Save");
  g_signal_connect (editor->save, "clicked", G_CALLBACK (on_save), editor);
  sb_sheet_set_buttons (GTK_WINDOW (editor), editor->save);
  gtk_window_set_child (GTK_WINDOW (editor), body);
  gtk_window_set_title (GTK_WINDOW (editor), "Column layout");
  gtk_window_set_default_size (GTK_WINDOW (editor), WIDTH_PX, HEIGHT_PX);
  sb_sheet_set_up (GTK_WINDOW (editor));
}

GtkWidget *
sb_layout_editor_new (GtkWindow *parent, const SbLayoutChoice *choice)
{
  SbLayoutEditor *editor = g_object_new (SB_TYPE_LAYOUT_EDITOR, "transient-for", parent, NULL);
  editor->draft = sb_import_draft_new (&choice->fixed);
  editor->draft->layout = sb_layout_copy (choice->layout);
  editor->of_shape = choice->of_shape;
  gtk_editable_set_text (GTK_EDITABLE (editor->name), choice->layout->name);
  sb_layout_row_add_headings (GTK_GRID (editor->grid), FALSE);
  for (guint i = 0; i < choice->layout->columns->len; i++)
    g_ptr_array_add (editor->rows,
                     sb_layout_row_new (GTK_GRID (editor->grid), editor->draft, i, FALSE, on_row_changed, editor));
  return GTK_WIDGET (editor);
}
