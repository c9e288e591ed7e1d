/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_sheet.h"

#include "bundle.h"
#include "file_choice.h"
#include "report_writing.h"
#include "sheet.h"

#include <string.h>

#define WIDTH 520

struct _SbReportSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  GtkWidget *as_folder, *as_bundle, *name, *paper, *said, *accept;
  SbChartWanted wanted;
  gpointer user_data;
};

G_DEFINE_FINAL_TYPE (SbReportSheet, sb_report_sheet, GTK_TYPE_WINDOW)

enum { TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

/* In the order of SbPaperSize. */
static const char *const paper_words[] = { "A4", "Letter", NULL };

static gboolean
is_bundle (SbReportSheet *sheet)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (sheet->as_bundle));
}

static void
written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbReportSheet *sheet = SB_REPORT_SHEET (source);
  g_autofree char *what = NULL;
  gboolean well = sb_report_write_finish (result, &what);
  g_signal_emit (sheet, signals[TOLD], 0, well, what);
  gtk_window_destroy (GTK_WINDOW (sheet));
}

/* What is written there is not the tester's logs: a folder that is watched may be around it. */
static void
write_to (SbReportSheet *sheet, const char *path)
{
  SbChartModel *model = sheet->wanted (sheet->user_data);
  if (model == NULL || !sb_document_results_are_current (sheet->document)) {
    g_clear_pointer (&model, sb_chart_model_unref);
    gtk_label_set_text (GTK_LABEL (sheet->said),
                        "Logs are still being read. Write the report when all of its figures are there.");
    return;
  }
  sb_folder_watch_pass_over (sb_document_watch (sheet->document), path);
  gtk_widget_set_sensitive (gtk_window_get_child (GTK_WINDOW (sheet)), FALSE); /* one writer at a time */
  gtk_widget_set_sensitive (sheet->accept, FALSE);
  gtk_label_set_text (GTK_LABEL (sheet->said), "Writing…");
  SbPaperSize size = (SbPaperSize) gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->paper));
  sb_report_write (G_OBJECT (sheet), model, size, is_bundle (sheet), path, written);
}

static void
on_folder_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  SbReportSheet *sheet = SB_REPORT_SHEET (parent);
  g_autofree char *name
      = g_filename_from_utf8 (gtk_editable_get_text (GTK_EDITABLE (sheet->name)), -1, NULL, NULL, NULL);
  g_autofree char *path = g_build_filename (paths[0], name, NULL);
  if (name != NULL)
    write_to (sheet, path);
}

static void
on_bundle_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  write_to (SB_REPORT_SHEET (parent), paths[0]);
}

static void
on_accept (SbReportSheet *sheet)
{
  static const char *const archives[] = { "*" SB_BUNDLE_SUFFIX, NULL };
  const char *name = gtk_editable_get_text (GTK_EDITABLE (sheet->name));
  g_autofree char *archive = g_strconcat (name, SB_BUNDLE_SUFFIX, NULL);
  SbFileQuestion folder = {
    .title = "The folder that the report's folder goes into",
    .action = GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
  };
  SbFileQuestion bundle = {
    .title = "Write the report with its logs",
    .action = GTK_FILE_CHOOSER_ACTION_SAVE,
    .suggested_name = archive,
    .ending = SB_BUNDLE_SUFFIX,
    .filter_name = "Archives",
    .patterns = archives,
  };
  if (is_bundle (sheet))
    sb_file_choice_ask (GTK_WINDOW (sheet), &bundle, on_bundle_chosen, NULL);
  else
    sb_file_choice_ask (GTK_WINDOW (sheet), &folder, on_folder_chosen, NULL);
}

/* A name that can stand for one folder. */
static void
on_name (SbReportSheet *sheet)
{
  const char *name = gtk_editable_get_text (GTK_EDITABLE (sheet->name));
  gboolean usable = name[0] != '\0' && strchr (name, G_DIR_SEPARATOR) == NULL && strcmp (name, ".") != 0
                    && strcmp (name, "..") != 0;
  gtk_widget_set_sensitive (sheet->accept, usable);
  gtk_label_set_text (GTK_LABEL (sheet->said), usable ? "" : "The report needs a name, without “/”.");
}

static void
sb_report_sheet_finalize (GObject *object)
{
  g_clear_object (&SB_REPORT_SHEET (object)->document);
  G_OBJECT_CLASS (sb_report_sheet_parent_class)->finalize (object);
}

static void
sb_report_sheet_class_init (SbReportSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_report_sheet_finalize;
  signals[TOLD] = g_signal_new ("told", SB_TYPE_REPORT_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                G_TYPE_BOOLEAN, G_TYPE_STRING);
}

static GtkWidget *
make_text (const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  return label;
}

/* A way to write it: its name, and below what comes of it. */
static GtkWidget *
add_way (GtkBox *box, const char *name, const char *what, GtkWidget *group)
{
  GtkWidget *label = make_text (what);
  GtkWidget *check
      = g_object_new (GTK_TYPE_CHECK_BUTTON, "accessible-role", GTK_ACCESSIBLE_ROLE_RADIO, "label", name, NULL);
  gtk_check_button_set_group (GTK_CHECK_BUTTON (check), GTK_CHECK_BUTTON (group));
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, what, -1);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_widget_set_margin_start (label, 26); /* below the name, not below its mark */
  gtk_box_append (box, check);
  gtk_box_append (box, label);
  return check;
}

/* Paper as this country uses it. */
static GtkWidget *
make_paper (void)
{
  GtkWidget *paper = gtk_drop_down_new_from_strings (paper_words);
  gboolean letter = strcmp (gtk_paper_size_get_default (), GTK_PAPER_NAME_LETTER) == 0;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (paper), letter ? SB_PAPER_SIZE_LETTER : SB_PAPER_SIZE_A4);
  return paper;
}

static GtkWidget *
make_fields (SbReportSheet *sheet)
{
  GtkWidget *fields = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  sheet->name = gtk_entry_new ();
  gtk_entry_set_activates_default (GTK_ENTRY (sheet->name), TRUE);
  g_signal_connect_swapped (sheet->name, "changed", G_CALLBACK (on_name), sheet);
  sheet->paper = make_paper ();
  gtk_box_append (GTK_BOX (fields), sb_sheet_field_new ("Name", sheet->name));
  gtk_box_append (GTK_BOX (fields), sb_sheet_field_new ("Paper of report.pdf", sheet->paper));
  gtk_box_set_homogeneous (GTK_BOX (fields), TRUE);
  gtk_widget_set_margin_top (fields, 6);
  return fields;
}

static void
sb_report_sheet_init (SbReportSheet *sheet)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  sheet->accept = gtk_button_new_with_label ("Write…");
  sheet->said = make_text (NULL);
  sheet->as_folder = add_way (GTK_BOX (box), "A folder",
                              "The report as a page (report.html) and on paper (report.pdf), the chart as it is shown, "
                              "tables, mean curves, every figure, methods, checksums.",
                              NULL);
  sheet->as_bundle = add_way (GTK_BOX (box), "One archive, with the logs",
                              "The same with the logs and the session, for a reader who wants to check. It opens here "
                              "like a session.",
                              sheet->as_folder);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (sheet->as_folder), TRUE);
  gtk_box_append (GTK_BOX (box), make_fields (sheet));
  gtk_box_append (GTK_BOX (box), sheet->said);
  gtk_widget_add_css_class (box, "sheet");
  g_signal_connect_swapped (sheet->accept, "clicked", G_CALLBACK (on_accept), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->accept);
  gtk_window_set_title (GTK_WINDOW (sheet), "Write the report");
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH, -1);
  gtk_window_set_child (GTK_WINDOW (sheet), box);
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

GtkWidget *
sb_report_sheet_new (GtkWindow *parent, SbDocument *document, SbChartWanted wanted, gpointer user_data)
{
  SbReportSheet *sheet = g_object_new (SB_TYPE_REPORT_SHEET, "transient-for", parent, NULL);
  g_autofree char *name = sb_document_name (document), *suggested = g_strconcat (name, " report", NULL);
  sheet->document = g_object_ref (document);
  sheet->wanted = wanted;
  sheet->user_data = user_data;
  gtk_editable_set_text (GTK_EDITABLE (sheet->name), suggested);
  return GTK_WIDGET (sheet);
}
