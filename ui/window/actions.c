/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "actions.h"

#include "about.h"
#include "callout_edits.h"
#include "chart_copy.h"
#include "demo_folder.h"
#include "durable_file.h"
#include "export_sheet.h"
#include "file_choice.h"
#include "layout_list.h"
#include "locating.h"
#include "report_sheet.h"
#include "results.h"
#include "saving.h"
#include "session.h"
#include "shortcuts.h"

#include <string.h>

#define KEY_ZOOM_FACTOR 0.8

static const char *const log_patterns[]
    = { "*.csv", "*.tsv", "*.txt", "*.log",  "*.dat",  "*.zip", ("*" SB_SESSION_SUFFIX),
        "*.png", "*.svg", "*.pdf", "*.json", "*.html", NULL };
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
    .filter_name = "Logs, sessions, charts with their proof",
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
    sb_document_add_ours (document_of (window), paths);
  else
    sb_window_tell (window, GTK_MESSAGE_ERROR, "The demo bench is not where it was.");
}

static void
save (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_saving_save (window);
}

static void
save_as (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_saving_save_as (window);
}

static SbChartModel *
chart_wanted (gpointer window)
{
  return sb_bench_page_chart (sb_window_page (SB_WINDOW (window)));
}

static void
on_told (GtkWindow *sheet, gboolean well, const char *what, gpointer window)
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
write_report (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  GtkWidget *sheet = sb_report_sheet_new (window, document_of (window), chart_wanted, window);
  g_signal_connect_object (sheet, "told", G_CALLBACK (on_told), window, 0);
  gtk_window_present (GTK_WINDOW (sheet));
}

static void
tell_copied (GtkWindow *window, gboolean well, const char *what)
{
  sb_window_tell (SB_WINDOW (window), well ? GTK_MESSAGE_INFO : GTK_MESSAGE_ERROR, what);
}

static void
copy_chart (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_chart_copy (window, document_of (window), chart_wanted (window), tell_copied);
}

static void
on_csv_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = sb_results_table_csv (sb_document_results (document_of (parent)));
  const char *path = paths[0];
  sb_folder_watch_pass_over (sb_document_watch (document_of (parent)), path);
  gboolean well = sb_durable_file_write (path, csv, strlen (csv), &error);
  g_autofree char *shown = g_filename_display_name (path);
  g_autofree char *text
      = well ? g_strdup_printf ("The table is written: %s", shown)
             : g_strdup_printf ("%s could not be written: %s. Choose another folder or name.", shown, error->message);
  sb_window_tell (SB_WINDOW (parent), well ? GTK_MESSAGE_INFO : GTK_MESSAGE_ERROR, text);
}

static void
export_table (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  SbFileQuestion question = {
    .title = "Export the table",
    .action = GTK_FILE_CHOOSER_ACTION_SAVE,
    .suggested_name = "measures.csv",
    .ending = ".csv",
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
fit_rise (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  if (!sb_bench_page_fit_rise (sb_window_page (window)))
    sb_window_tell (window, GTK_MESSAGE_INFO,
                    "No rise to be shown: this view has no time, or no drawn configuration has one.");
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

#define VIEW_PREFIX "view-" /* then the view's key */

static void
show_view (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  SbView view;
  if (sb_view_from_key (g_action_get_name (G_ACTION (action)) + strlen (VIEW_PREFIX), &view))
    sb_bench_page_show_view (sb_window_page (window), view);
}

static void
zoom_back (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_go (sb_window_page (window), -1);
}

static void
zoom_forward (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_go (sb_window_page (window), 1);
}

static void
type_time (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_bench_page_type_time (sb_window_page (window));
}

static void
flip (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_edit_flip (document_of (window));
}

static SbMeasuresView *
measures_of (gpointer window)
{
  SbFiguresPane *figures = sb_bench_page_figures (sb_window_page (window));
  sb_figures_pane_show_measures (figures);
  return sb_figures_pane_measures (figures);
}

static void
explain (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_measures_view_explain (measures_of (window));
}

static void
open_choices (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_measures_view_open_choices (measures_of (window));
}

static void
open_table_choices (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_measures_view_open_table_choices (measures_of (window));
}

static void
turn_figures (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_figures_pane_turn (sb_bench_page_figures (sb_window_page (window)));
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
locate_logs (GSimpleAction *action, GVariant *parameter, gpointer window)
{
  sb_locating_ask (window);
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
  { "open-demo", ALWAYS, open_demo, { "<Control><Shift>b" } },
  { "save", WITH_BENCH, save, { "<Control>s" } },
  { "save-as", WITH_BENCH, save_as, { "<Control><Shift>s" } },
  { "export", WITH_RESULTS, export_chart, { "<Control>e" } },
  { "report", WITH_RESULTS, write_report, { "<Control><Shift>r" } },
  { "copy-chart", WITH_RESULTS, copy_chart, { "<Control><Shift>e" } },
  { "export-table", WITH_RESULTS, export_table, { "<Control><Shift>t" } },
  { "copy-table", WITH_RESULTS, copy_table, { "<Control><Shift>c" } },
  { "copy-methods", WITH_RESULTS, copy_methods, { "<Control><Shift>m" } },
  { "undo", WITH_UNDO, undo, { "<Control>z" } },
  { "redo", WITH_REDO, redo, { "<Control><Shift>z", "<Control>y" } },
  { "fit", WITH_RESULTS, fit, { "<Control>0", "<Control>KP_0" } },
  { "fit-rise", WITH_RESULTS, fit_rise, { "<Control>9", "<Control>KP_9" } },
  { "zoom-in", WITH_RESULTS, zoom_in, { "<Control>plus", "<Control>equal", "<Control>KP_Add" } },
  { "zoom-out", WITH_RESULTS, zoom_out, { "<Control>minus", "<Control>KP_Subtract" } },
  { VIEW_PREFIX "response", WITH_BENCH, show_view, { "<Alt>1", "<Alt>KP_1" } },
  { VIEW_PREFIX "difference", WITH_BENCH, show_view, { "<Alt>2", "<Alt>KP_2" } },
  { VIEW_PREFIX "spread", WITH_BENCH, show_view, { "<Alt>3", "<Alt>KP_3" } },
  { VIEW_PREFIX "sweep", WITH_BENCH, show_view, { "<Alt>4", "<Alt>KP_4" } },
  { VIEW_PREFIX "slope", WITH_BENCH, show_view, { "<Alt>5", "<Alt>KP_5" } },
  { VIEW_PREFIX "ringing", WITH_BENCH, show_view, { "<Alt>6", "<Alt>KP_6" } },
  { VIEW_PREFIX "phase", WITH_BENCH, show_view, { "<Alt>7", "<Alt>KP_7" } },
  { "zoom-back", WITH_RESULTS, zoom_back, { "<Alt>Left" } },
  { "zoom-forward", WITH_RESULTS, zoom_forward, { "<Alt>Right" } },
  { "type-time", WITH_RESULTS, type_time, { "<Control>g" } },
  { "flip", WITH_BENCH, flip, { "F3" } },
  { VIEW_PREFIX "plan", WITH_BENCH, show_view, { "<Alt>8", "<Alt>KP_8" } },
  { "figures", WITH_BENCH, turn_figures, { "<Alt>9", "<Alt>KP_9" } },
  { "explain", WITH_RESULTS, explain, { "F4" } },
  { "choices", WITH_BENCH, open_choices, { "<Control>m" } },
  { "table-choices", WITH_BENCH, open_table_choices, { "<Control>u" } },
  { "rename", WITH_BENCH, rename_selected, { "F2" } },
  { "columns", WITH_BENCH, show_columns, { "<Control>l" } },
  { "locate-logs", WITH_BENCH, locate_logs, { "<Control><Shift>l" } },
  { "layouts", ALWAYS, show_layouts, { "<Control><Shift>k" } },
  { "stop", ALWAYS, stop, { "<Control>b" } },
  { "go-on", ALWAYS, go_on, { "<Control>r" } },
  { "shortcuts", ALWAYS, show_shortcuts, { "F1", "<Control>question" } },
  { "about", ALWAYS, show_about, { "<Shift>F1" } },
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
