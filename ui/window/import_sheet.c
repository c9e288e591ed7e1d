/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import_sheet.h"

#include "dialect_fields.h"
#include "head_lines.h"
#include "import_look.h"
#include "import_stated.h"
#include "layout_row.h"
#include "sheet.h"

#define WIDTH_PX  1200
#define HEIGHT_PX 680
/* A file with thousands of columns names most of them itself. */
#define ROWS_AT_ONCE 40
/* While a number is being typed, the file is not read for each digit. */
#define REST_MS 150

/* A file of more tables is to be chosen from by a layout file. */
#define MOST_TABLES 100

struct _SbImportSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  char *path;
  SbLayout *known; /* the layout that the log was read by; NULL: it was not, or could not be */
  SbImportDraft *draft;
  SbProposal *proposal; /* NULL until the file was looked at */
  gboolean needs_proposal;
  GCancellable *looking; /* NULL: nothing runs */
  guint rest_source;
  GPtrArray *rows; /* SbLayoutRow */
  GtkWidget *lines, *fields, *columns, *grid, *more, *heading, *status_icon, *status, *same, *remember, *apply;
};

G_DEFINE_FINAL_TYPE (SbImportSheet, sb_import_sheet, GTK_TYPE_WINDOW)

enum { TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

static void look_soon (SbImportSheet *sheet);

static void
show_status (SbImportSheet *sheet, const char *icon, const char *text)
{
  gtk_image_set_from_icon_name (GTK_IMAGE (sheet->status_icon), icon);
  gtk_label_set_text (GTK_LABEL (sheet->status), text);
}

/* "2 columns need a look." above; below, what came of reading. */
static void
show_questions (SbImportSheet *sheet)
{
  g_autofree char *heading = sb_import_draft_heading (sheet->draft);
  gtk_label_set_text (GTK_LABEL (sheet->heading), heading);
  sb_dialect_fields_show_rate (SB_DIALECT_FIELDS (sheet->fields), sheet->draft);
  g_autofree char *problem = sb_import_draft_problem (sheet->draft);
  gtk_widget_set_sensitive (sheet->apply, problem == NULL && !sheet->needs_proposal);
  if (problem != NULL)
    show_status (sheet, "dialog-warning-symbolic", problem);
}

static void
show_rows (SbImportSheet *sheet)
{
  for (guint i = 0; i < sheet->rows->len; i++)
    sb_layout_row_show (g_ptr_array_index (sheet->rows, i));
  show_questions (sheet);
}

static void
on_row_changed (gpointer user_data)
{
  SbImportSheet *sheet = user_data;
  show_rows (sheet);
  look_soon (sheet);
}

static void
add_rows (SbImportSheet *sheet)
{
  guint n = sheet->draft->layout->columns->len, end = MIN (n, sheet->rows->len + ROWS_AT_ONCE);
  while (sheet->rows->len < end)
    g_ptr_array_add (sheet->rows, sb_layout_row_new (GTK_GRID (sheet->grid), sheet->draft, sheet->rows->len, TRUE,
                                                     on_row_changed, sheet));
  g_autofree char *rest = g_strdup_printf ("Show more of the %u other columns", n - end);
  gtk_button_set_label (GTK_BUTTON (sheet->more), rest);
  gtk_widget_set_visible (sheet->more, end < n);
}

static void
on_more (GtkButton *button, SbImportSheet *sheet)
{
  add_rows (sheet);
  look_soon (sheet);
}

/* The grid is made anew: a change of the dialect may make other columns. */
static void
rebuild_rows (SbImportSheet *sheet)
{
  g_ptr_array_set_size (sheet->rows, 0);
  sheet->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (sheet->grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (sheet->grid), 4);
  gtk_widget_add_css_class (sheet->grid, "layout-rows");
  sb_layout_row_add_headings (GTK_GRID (sheet->grid), TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (sheet->columns), sheet->grid);
  add_rows (sheet);
}

static void
show_same_shape (SbImportSheet *sheet)
{
  guint n = sb_import_stated_same_shape (sheet->document, sheet->draft->layout);
  g_autofree char *label = n > 1 ? g_strdup_printf ("Same for all files of this shape (%u are open)", n)
                                 : g_strdup ("Same for all files of this shape");
  gtk_check_button_set_label (GTK_CHECK_BUTTON (sheet->same), label);
}

static void
take_proposal (SbImportSheet *sheet, SbImportLook *look)
{
  g_clear_pointer (&sheet->proposal, sb_proposal_free);
  sheet->proposal = g_steal_pointer (&look->proposal);
  sheet->needs_proposal = FALSE;
  sb_import_draft_take (sheet->draft, sheet->proposal->layout, sheet->known);
  sb_dialect_fields_show (SB_DIALECT_FIELDS (sheet->fields), sheet->draft, sheet->proposal);
  sb_head_lines_set (SB_HEAD_LINES (sheet->lines), sheet->proposal, sheet->draft->layout, NULL);
  rebuild_rows (sheet);
  show_same_shape (sheet);
  show_questions (sheet);
}

/* "Table 1 of 2: 350 rows are read; 3 are left out." */
static void
show_reading (SbImportSheet *sheet, const SbImportLook *look)
{
  if (look->failure != NULL) {
    show_status (sheet, "dialog-warning-symbolic", look->failure);
    return;
  }
  gsize n = look->log->n_rows, left_out = look->log->n_rows_left_out;
  guint table = look->log->layout->table + 1;
  guint64 n_tables = table + look->log->n_other_tables;
  g_autoptr (GString) text = g_string_new (NULL);
  if (n_tables > 1)
    g_string_append_printf (text, "Table %u of %" G_GUINT64_FORMAT ": ", table, n_tables);
  g_string_append_printf (text, n == 1 ? "%" G_GSIZE_FORMAT " row is read" : "%" G_GSIZE_FORMAT " rows are read", n);
  if (left_out > 0)
    g_string_append_printf (text, "; %" G_GSIZE_FORMAT " %s left out", left_out, left_out == 1 ? "is" : "are");
  g_string_append_c (text, '.');
  gboolean whole = left_out == 0 && look->log->n_other_tables == 0;
  show_status (sheet, whole ? "object-select-symbolic" : "dialog-information-symbolic", text->str);
}

static void
take_reading (SbImportSheet *sheet, const SbImportLook *look)
{
  sb_head_lines_set (SB_HEAD_LINES (sheet->lines), sheet->proposal, sheet->draft->layout, look->log);
  for (guint i = 0; i < sheet->rows->len; i++) {
    const SbPreviewColumn *data = look->preview != NULL && i < look->preview->columns->len
                                      ? g_ptr_array_index (look->preview->columns, i)
                                      : NULL;
    sb_layout_row_show_data (g_ptr_array_index (sheet->rows, i), data,
                             look->preview != NULL ? look->preview->n_rows : 0);
  }
  if (look->log != NULL && look->log->n_other_tables > 0)
    sb_dialect_fields_show_tables (SB_DIALECT_FIELDS (sheet->fields), sheet->draft, sheet->proposal,
                                   sheet->draft->layout->table + 1
                                       + (guint) MIN (look->log->n_other_tables, MOST_TABLES));
  show_reading (sheet, look);
  show_questions (sheet); /* a problem goes before what came of reading */
}

static void
looked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SbImportSheet) sheet = user_data;
  g_autoptr (SbImportLook) look = sb_import_look_finish (result);
  if (look == NULL || sheet->looking != g_task_get_cancellable (G_TASK (result)))
    return; /* another look has begun, or the sheet is gone */
  g_clear_object (&sheet->looking);
  if (look->proposal == NULL) {
    gtk_widget_set_sensitive (sheet->apply, FALSE);
    show_status (sheet, "dialog-warning-symbolic", look->failure);
  } else if (sheet->needs_proposal) {
    take_proposal (sheet, look);
    look_soon (sheet);
  } else {
    take_reading (sheet, look);
  }
}

static void
drop_look (SbImportSheet *sheet)
{
  if (sheet->looking != NULL)
    g_cancellable_cancel (sheet->looking);
  g_clear_object (&sheet->looking);
}

static void
look_now (SbImportSheet *sheet)
{
  drop_look (sheet);
  sheet->looking = g_cancellable_new ();
  g_autoptr (SbLayout) layout = sheet->needs_proposal ? NULL : sb_layout_copy (sheet->draft->layout);
  sb_import_look_async (sheet->path, &sheet->draft->fixed, layout, sheet->looking, looked, g_object_ref (sheet));
}

static gboolean
on_rest (gpointer user_data)
{
  SbImportSheet *sheet = user_data;
  sheet->rest_source = 0;
  look_now (sheet);
  return G_SOURCE_REMOVE;
}

/* What is being looked at is out of date: it must not be taken for what the person has chosen since. */
static void
look_soon (SbImportSheet *sheet)
{
  drop_look (sheet);
  g_clear_handle_id (&sheet->rest_source, g_source_remove);
  sheet->rest_source = g_timeout_add (REST_MS, on_rest, sheet);
}

static void
on_dialect_changed (SbDialectFields *fields, SbImportSheet *sheet)
{
  sb_dialect_fields_take (fields, sheet->draft);
  sheet->needs_proposal = TRUE;
  gtk_widget_set_sensitive (sheet->apply, FALSE);
  look_soon (sheet);
}

/* Remembering goes on when the sheet is gone. */
static void
remembered (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SbImportSheet) sheet = user_data;
  g_autoptr (GError) error = NULL;
  gboolean well = sb_import_stated_remember_finish (result, &error);
  g_signal_emit (sheet, signals[TOLD], 0, well,
                 well ? "The column layout is remembered for later files of this shape." : error->message);
}

static void
on_apply (GtkButton *button, SbImportSheet *sheet)
{
  g_autoptr (SbLayout) layout = sb_import_draft_confirmed (sheet->draft);
  g_autoptr (SbLayoutChoice) choice = sb_layout_choice_of_shape (layout, &sheet->draft->fixed);
  sb_import_stated_push (sheet->document, sheet->path, choice,
                         gtk_check_button_get_active (GTK_CHECK_BUTTON (sheet->same)));
  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (sheet->remember)))
    sb_import_stated_remember_async (choice, remembered, g_object_ref (sheet));
  gtk_window_destroy (GTK_WINDOW (sheet));
}

static GtkWidget *
make_columns (SbImportSheet *sheet)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  sheet->columns = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (sheet->columns), TRUE);
  gtk_widget_set_vexpand (sheet->columns, TRUE);
  sheet->more = gtk_button_new ();
  gtk_widget_set_halign (sheet->more, GTK_ALIGN_START);
  gtk_widget_set_visible (sheet->more, FALSE);
  g_signal_connect (sheet->more, "clicked", G_CALLBACK (on_more), sheet);
  gtk_box_append (GTK_BOX (box), sheet->columns);
  gtk_box_append (GTK_BOX (box), sheet->more);
  return box;
}

static GtkWidget *
make_foot (SbImportSheet *sheet)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);
  GtkWidget *state = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  sheet->status_icon = gtk_image_new ();
  sheet->status = gtk_label_new ("Looking at the file…");
  gtk_label_set_xalign (GTK_LABEL (sheet->status), 0);
  gtk_label_set_wrap (GTK_LABEL (sheet->status), TRUE);
  gtk_widget_set_hexpand (state, TRUE);
  gtk_box_append (GTK_BOX (state), sheet->status_icon);
  gtk_box_append (GTK_BOX (state), sheet->status);
  sheet->same = gtk_check_button_new_with_label ("Same for all files of this shape");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (sheet->same), TRUE);
  gtk_widget_set_tooltip_text (sheet->same, "Files of one shape have the same columns in the same order.");
  sheet->remember = gtk_check_button_new_with_label ("Remember");
  gtk_widget_set_tooltip_text (sheet->remember, "Read later files of this shape in the same way, in every session.");
  gtk_box_append (GTK_BOX (box), state);
  gtk_box_append (GTK_BOX (box), sheet->same);
  gtk_box_append (GTK_BOX (box), sheet->remember);
  return box;
}

static GtkWidget *
make_body (SbImportSheet *sheet)
{
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class (body, "import-sheet");
  sheet->heading = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (sheet->heading), 0);
  gtk_widget_add_css_class (sheet->heading, "import-heading");
  sheet->lines = sb_head_lines_new ();
  sheet->fields = sb_dialect_fields_new ();
  g_signal_connect (sheet->fields, "changed", G_CALLBACK (on_dialect_changed), sheet);
  gtk_box_append (GTK_BOX (body), sheet->lines);
  gtk_box_append (GTK_BOX (body), sheet->fields);
  gtk_box_append (GTK_BOX (body), sheet->heading);
  gtk_box_append (GTK_BOX (body), make_columns (sheet));
  gtk_box_append (GTK_BOX (body), make_foot (sheet));
  return body;
}

static void
sb_import_sheet_dispose (GObject *object)
{
  SbImportSheet *sheet = SB_IMPORT_SHEET (object);
  g_clear_handle_id (&sheet->rest_source, g_source_remove);
  drop_look (sheet);
  g_ptr_array_set_size (sheet->rows, 0);
  G_OBJECT_CLASS (sb_import_sheet_parent_class)->dispose (object);
}

static void
sb_import_sheet_finalize (GObject *object)
{
  SbImportSheet *sheet = SB_IMPORT_SHEET (object);
  g_ptr_array_unref (sheet->rows);
  g_clear_pointer (&sheet->draft, sb_import_draft_free);
  sb_proposal_free (sheet->proposal);
  sb_layout_unref (sheet->known);
  g_free (sheet->path);
  g_clear_object (&sheet->document);
  G_OBJECT_CLASS (sb_import_sheet_parent_class)->finalize (object);
}

static void
sb_import_sheet_class_init (SbImportSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_import_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_import_sheet_finalize;
  signals[TOLD] = g_signal_new ("told", SB_TYPE_IMPORT_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                G_TYPE_BOOLEAN, G_TYPE_STRING);
}

static void
sb_import_sheet_init (SbImportSheet *sheet)
{
  sheet->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_layout_row_free);
  sheet->needs_proposal = TRUE;
  sheet->apply = gtk_button_new_with_label ("Apply");
  gtk_widget_set_sensitive (sheet->apply, FALSE);
  g_signal_connect (sheet->apply, "clicked", G_CALLBACK (on_apply), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->apply);
  gtk_window_set_child (GTK_WINDOW (sheet), make_body (sheet));
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH_PX, HEIGHT_PX);
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

GtkWidget *
sb_import_sheet_new (GtkWindow *parent, SbDocument *document, const char *path)
{
  SbImportSheet *sheet = g_object_new (SB_TYPE_IMPORT_SHEET, "transient-for", parent, NULL);
  sheet->document = g_object_ref (document);
  sheet->path = g_strdup (path);
  SbLayout *known = sb_import_stated_layout (document, path);
  sheet->known = known != NULL ? sb_layout_ref (known) : NULL;
  const SbLayoutChoice *choice = sb_import_stated_choice (document, path, known);
  sheet->draft = sb_import_draft_new (choice != NULL ? &choice->fixed : NULL);
  g_autofree char *file = g_filename_display_basename (path);
  /* Runs are called the same in every folder. */
  g_autofree char *place = g_path_get_dirname (path);
  g_autofree char *folder = g_filename_display_basename (place);
  g_autofree char *title = g_strdup_printf ("Import sheet: columns of %s in %s", file, folder);
  gtk_window_set_title (GTK_WINDOW (sheet), title);
  look_now (sheet);
  return GTK_WIDGET (sheet);
}
