/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "actions.h"

#include "about.h"
#include "demo_folder.h"
#include "export_sheet.h"
#include "file_choice.h"
#include "layout_list.h"
#include "results.h"
#include "session.h"
#include "shortcuts.h"

#define KEY_ZOOM_FACTOR 0.8

static const char *const log_patterns[]
    = { "*.csv", "*.tsv", "*.txt", "*.log", "*.dat", ("*" SB_SESSION_SUFFIX), NULL };
static const char *const session_patterns[] = { "*" SB_SESSION_SUFFIX, NULL };
static const char *const csv_patterns[] = { "*.csv", NULL };

static SbDocument *
document_of (gpointer window)
{
  return sb_window_document (SB_WINDOW (window));
}

static void
on_open_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  sb_window_open (SB_WINDOW (parent), paths);
}

static void
open_files (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  SbFileQuestion question = {
    .title = "Open logs or a session",
    .action = GTK_FILE_CHOOSER_ACTION_OPEN,
    .several = TRUE,
    .filter_name = "Logs and sessions",
    .patterns = log_patterns,
  };
  sb_file_choice_ask (window, &question, on_open_chosen, NULL);
}

static void
open_folder (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  SbFileQuestion question = {
    .title = "Open folders of logs",
    .action = GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
    .several = TRUE,
  };
  sb_file_choice_ask (window, &question, on_open_chosen, NULL);
}

/* The demo comes as a copy without a file of its own, so that Save asks where to. */
static void
open_demo (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  g_autofree char *path = sb_demo_folder_find ();
  const char *const paths[] = { path, NULL };
  if (path != NULL)
    sb_document_add (document_of (window), paths);
  else
    sb_window_tell (window, GTK_MESSAGE_ERROR, "The demo bench is not where it was.");
}

typedef struct {
  SbWindow *window; /* owned */
  gboolean close;   /* when it is saved */
} Saving;

static void
saved (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Saving *saving = user_data;
  g_autoptr (SbWindow) window = saving->window;
  gboolean close = saving->close;
  g_free (saving);
  g_autoptr (GError) error = NULL;
  if (!sb_document_save_finish (SB_DOCUMENT (source), result, &error)) {
    sb_window_tell (window, GTK_MESSAGE_ERROR, error->message);
    return;
  }
  if (close) {
    sb_window_close_now (window);
    return;
  }
  g_autofree char *shown = g_filename_display_name (sb_document_path (SB_DOCUMENT (source)));
  g_autofree char *text = g_strdup_printf ("The session is saved: %s", shown);
  sb_window_tell (window, GTK_MESSAGE_INFO, text);
}

static void
save_to (SbWindow *window, const char *path, gboolean close)
{
  Saving *saving = g_new0 (Saving, 1);
  saving->window = g_object_ref (window);
  saving->close = close;
  sb_document_save_async (document_of (window), path, saved, saving);
}

static void
on_save_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  g_autofree char *path = g_str_has_suffix (paths[0], SB_SESSION_SUFFIX)
                              ? g_strdup (paths[0])
                              : g_strconcat (paths[0], SB_SESSION_SUFFIX, NULL);
  save_to (SB_WINDOW (parent), path, GPOINTER_TO_INT (user_data));
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
    save_to (window, path, close);
  else
    ask_where_to_save (window, close);
}

static void
save (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  save_or_ask (window, FALSE);
}

static void
save_as (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  ask_where_to_save (window, FALSE);
}

static SbChartModel *
chart_wanted (gpointer window)
{
  return sb_bench_page_chart (sb_window_page (SB_WINDOW (window)));
}

static void
on_told (SbExportSheet *sheet, gboolean well, const char *what, gpointer window)
{
  sb_window_tell (window, well ? GTK_MESSAGE_INFO : GTK_MESSAGE_ERROR, what);
}

static void
export_chart (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  GtkWidget *sheet = sb_export_sheet_new (window, document_of (window), "chart", chart_wanted, window);
  g_signal_connect_object (sheet, "told", G_CALLBACK (on_told), window, 0);
  gtk_window_present (GTK_WINDOW (sheet));
}

static void
on_csv_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = sb_results_table_csv (sb_document_results (document_of (parent)));
  g_autofree char *path
      = g_str_has_suffix (paths[0], ".csv") ? g_strdup (paths[0]) : g_strconcat (paths[0], ".csv", NULL);
  sb_folder_watch_pass_over (sb_document_watch (document_of (parent)), path);
  gboolean well = g_file_set_contents (path, csv, -1, &error);
  g_autofree char *shown = g_filename_display_name (path);
  g_autofree char *text = well ? g_strdup_printf ("The table is written: %s", shown) : g_strdup (error->message);
  sb_window_tell (SB_WINDOW (parent), well ? GTK_MESSAGE_INFO : GTK_MESSAGE_ERROR, text);
}

static void
export_table (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  SbFileQuestion question = {
    .title = "Export the table",
    .action = GTK_FILE_CHOOSER_ACTION_SAVE,
    .suggested_name = "measures.csv",
    .filter_name = "CSV",
    .patterns = csv_patterns,
  };
  sb_file_choice_ask (window, &question, on_csv_chosen, NULL);
}

static void
copy_table (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  g_autofree char *text = sb_results_table_text (sb_document_results (document_of (window)));
  gdk_clipboard_set_text (gtk_widget_get_clipboard (window), text);
  sb_window_tell (window, GTK_MESSAGE_INFO, "The measures table is on the clipboard, as text.");
}

static void
copy_methods (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  g_autofree char *text = sb_results_methods_text (sb_document_results (document_of (window)));
  gdk_clipboard_set_text (gtk_widget_get_clipboard (window), text);
  sb_window_tell (window, GTK_MESSAGE_INFO, "What was done is on the clipboard, as text for beside the chart.");
}

static void
undo (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_document_undo (document_of (window));
}

static void
redo (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_document_redo (document_of (window));
}

static void
fit (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_fit (sb_window_page (window));
}

static void
zoom_in (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_zoom (sb_window_page (window), KEY_ZOOM_FACTOR);
}

static void
zoom_out (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_zoom (sb_window_page (window), 1 / KEY_ZOOM_FACTOR);
}

static void
rename_selected (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_rename (sb_window_page (window));
}

static void
show_columns (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  const char *path = sb_bench_page_log (sb_window_page (window));
  if (path != NULL)
    sb_window_show_columns (window, path);
}

static void
show_columns_of (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_window_show_columns (window, g_variant_get_bytestring (parameter));
}

static void
show_layouts (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  gtk_window_present (GTK_WINDOW (sb_layout_list_new (window)));
}

static void
stop (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_document_stop (document_of (window));
}

static void
go_on (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_document_read_again (document_of (window));
}

static void
show_shortcuts (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_shortcuts_present (window);
}

static void
show_about (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_about_present (window);
}

static void
close_window (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  gtk_window_close (window);
}

/* When an action can be used. */
typedef enum {
  ALWAYS,
  WITH_BENCH,   /* there is a configuration */
  WITH_RESULTS, /* there is something to export */
  WITH_UNDO,
  WITH_REDO,
} Condition;

typedef struct {
  const char *name;
  Condition condition;
  void (*activate) (GSimpleAction *action, GVariant *parameter, gpointer window);
  const char *keys[4];
} Command;

static const Command commands[] = {
  { "open", ALWAYS, open_files, { "<Control>o" } },
  { "open-folder", ALWAYS, open_folder, { "<Control><Shift>o" } },
  { "open-demo", ALWAYS, open_demo, { NULL } },
  { "save", WITH_BENCH, save, { "<Control>s" } },
  { "save-as", WITH_BENCH, save_as, { "<Control><Shift>s" } },
  { "export", WITH_RESULTS, export_chart, { "<Control>e" } },
  { "export-table", WITH_RESULTS, export_table, { NULL } },
  { "copy-table", WITH_RESULTS, copy_table, { "<Control><Shift>c" } },
  { "copy-methods", WITH_RESULTS, copy_methods, { NULL } },
  { "undo", WITH_UNDO, undo, { "<Control>z" } },
  { "redo", WITH_REDO, redo, { "<Control><Shift>z", "<Control>y" } },
  { "fit", WITH_RESULTS, fit, { "<Control>0", "<Control>KP_0" } },
  { "zoom-in", WITH_RESULTS, zoom_in, { "<Control>plus", "<Control>equal", "<Control>KP_Add" } },
  { "zoom-out", WITH_RESULTS, zoom_out, { "<Control>minus", "<Control>KP_Subtract" } },
  { "rename", WITH_BENCH, rename_selected, { "F2" } },
  { "columns", WITH_BENCH, show_columns, { "<Control>l" } },
  { "layouts", ALWAYS, show_layouts, { NULL } },
  { "stop", ALWAYS, stop, { NULL } },
  { "go-on", ALWAYS, go_on, { NULL } },
  { "shortcuts", ALWAYS, show_shortcuts, { "F1", "<Control>question" } },
  { "about", ALWAYS, show_about, { NULL } },
  { "close", ALWAYS, close_window, { "<Control>w", "<Control>q" } },
};

void
sb_actions_install (SbWindow *window, GtkApplication *application)
{
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++) {
    g_autoptr (GSimpleAction) action = g_simple_action_new (commands[i].name, NULL);
    g_signal_connect (action, "activate", G_CALLBACK (commands[i].activate), window);
    g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (action));
    g_autofree char *detailed = g_strconcat ("win.", commands[i].name, NULL);
    if (application != NULL)
      gtk_application_set_accels_for_action (application, detailed, commands[i].keys);
  }
  /* The path of a log, whatever bytes it is made of. */
  g_autoptr (GSimpleAction) columns_of = g_simple_action_new ("columns-of", G_VARIANT_TYPE_BYTESTRING);
  g_signal_connect (columns_of, "activate", G_CALLBACK (show_columns_of), window);
  g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (columns_of));
  sb_actions_update (window);
}

static gboolean
is_met (SbDocument *document, Condition condition)
{
  switch (condition) {
  case ALWAYS:
    return TRUE;
  case WITH_BENCH:
    return !sb_bench_is_empty (sb_document_bench (document));
  case WITH_RESULTS:
    return sb_document_results (document) != NULL && !sb_bench_is_empty (sb_document_bench (document));
  case WITH_UNDO:
    return sb_document_undo_step (document) != NULL;
  case WITH_REDO:
    return sb_document_redo_step (document) != NULL;
  }
  return FALSE;
}

void
sb_actions_update (SbWindow *window)
{
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++) {
    GAction *action = g_action_map_lookup_action (G_ACTION_MAP (window), commands[i].name);
    gboolean enabled = is_met (document_of (window), commands[i].condition);
    if (g_action_get_enabled (action) != enabled)
      g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
  }
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

/* Assistive technology reads a dialog's own buttons twice unless they are named. */
static GtkWidget *
add_answer (GtkWidget *dialog, const char *label, int answer)
{
  GtkWidget *button = gtk_dialog_add_button (GTK_DIALOG (dialog), label, answer);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return button;
}

void
sb_actions_ask_before_close (SbWindow *window)
{
  g_autofree char *name = sb_document_name (document_of (window));
  GtkWidget *dialog
      = gtk_message_dialog_new (GTK_WINDOW (window), GTK_DIALOG_MODAL | GTK_DIALOG_USE_HEADER_BAR, GTK_MESSAGE_QUESTION,
                                GTK_BUTTONS_NONE, "Save the changes to “%s”?", name);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog),
                                            "Choices made since it was last saved are lost otherwise. The logs are "
                                            "never changed.");
  add_answer (dialog, "Close without saving", CLOSE_WITHOUT_SAVING);
  add_answer (dialog, "Cancel", GTK_RESPONSE_CANCEL);
  GtkWidget *save_button = add_answer (dialog, "Save", SAVE_AND_CLOSE);
  gtk_widget_add_css_class (save_button, "suggested-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), SAVE_AND_CLOSE);
  g_signal_connect_object (dialog, "response", G_CALLBACK (on_close_answer), window, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
add_section (GMenu *menu, const char *const *entries)
{
  g_autoptr (GMenu) section = g_menu_new ();
  for (guint i = 0; entries[i] != NULL; i += 2)
    g_menu_append (section, entries[i], entries[i + 1]);
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
}

GMenuModel *
sb_actions_menu (gboolean with_demo)
{
  static const char *const opening[] = { "Open a folder…", "win.open-folder", NULL };
  static const char *const demo[]
      = { "Open a folder…", "win.open-folder", "Open the demo bench", "win.open-demo", NULL };
  static const char *const saving[] = { "Save session", "win.save", "Save session as…", "win.save-as", NULL };
  static const char *const exporting[] = { "Export chart…",     "win.export",         "Export table as CSV…",
                                           "win.export-table",  "Copy table as text", "win.copy-table",
                                           "Copy methods text", "win.copy-methods",   NULL };
  static const char *const reading[] = { "Columns…", "win.columns", "Remembered column layouts…", "win.layouts", NULL };
  static const char *const helping[] = { "Keyboard shortcuts", "win.shortcuts", "About Slewbench", "win.about", NULL };
  static const char *const leaving[] = { "Quit", "win.close", NULL };
  GMenu *menu = g_menu_new ();
  add_section (menu, with_demo ? demo : opening);
  add_section (menu, saving);
  add_section (menu, reading);
  add_section (menu, exporting);
  add_section (menu, helping);
  add_section (menu, leaving);
  return G_MENU_MODEL (menu);
}
