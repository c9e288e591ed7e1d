/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window in this process: what is shown, and that nothing of it stays when it goes. Needs a display. */
#include "actions.h"
#include "bench_files.h"
#include "document_save.h"
#include "chart_view.h"
#include "configuration_row.h"
#include "edits.h"
#include "find_widget.h"
#include "folder.h"
#include "layout_list.h"
#include "layout_store.h"
#include "look.h"
#include "point_edits.h"
#include "trial_rows.h"
#include "window.h"
#include "close.h"

#include <string.h>

#define PATIENCE_S 20
#define SKIPPED    77

typedef struct {
  char *folder;
  SbWindow *window;
  gpointer watch; /* weak: NULL when the window is gone */
} Fixture;

static void
settle (void)
{
  while (g_main_context_iteration (NULL, FALSE)) {
  }
}

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = bench_files_folder_new ();
  fixture->window = SB_WINDOW (sb_window_new (NULL));
  fixture->watch = fixture->window;
  g_object_add_weak_pointer (G_OBJECT (fixture->window), &fixture->watch);
  gtk_window_present (GTK_WINDOW (fixture->window));
  settle ();
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  if (fixture->watch != NULL)
    gtk_window_destroy (GTK_WINDOW (fixture->window));
  settle ();
  for (int i = 0; fixture->watch != NULL && i < 500; i++) {
    g_usleep (2000);
    settle ();
  }
  gboolean gone = fixture->watch == NULL;
  if (!gone)
    g_object_remove_weak_pointer (fixture->watch, &fixture->watch);
  bench_files_folder_free (fixture->folder);
  g_free (fixture);
  return gone ? 0 : -1;
}

static gboolean
on_impatience (gpointer late)
{
  *(gboolean *) late = TRUE;
  return G_SOURCE_CONTINUE;
}

static void
wait_for_results (Fixture *fixture)
{
  gboolean late = FALSE;
  guint source = g_timeout_add_seconds (PATIENCE_S, on_impatience, &late);
  while (!sb_document_results_are_current (sb_window_document (fixture->window)) && !late)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
  assert_false (late);
  settle ();
}

static void
open_two_configurations_of (Fixture *fixture, guint n_logs)
{
  g_autofree char *low = bench_files_write_configuration (fixture->folder, "low", n_logs, 4);
  g_autofree char *high = bench_files_write_configuration (fixture->folder, "high", n_logs, 6);
  const char *const paths[] = { low, high, NULL };
  sb_window_open (fixture->window, paths);
  while (sb_bench_is_empty (sb_document_bench (sb_window_document (fixture->window))))
    g_main_context_iteration (NULL, TRUE);
  wait_for_results (fixture);
}

static void
open_two_configurations (Fixture *fixture)
{
  open_two_configurations_of (fixture, 3);
}

/* A point may be put while the results are still those of before: the next results to come are without it. */
static void
points_of_the_bench_are_shown_on_older_results (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  SbDocument *document = sb_window_document (fixture->window);
  SbChartView *chart = SB_CHART_VIEW (find_widget (GTK_WIDGET (fixture->window), SB_TYPE_CHART_VIEW));
  const SbPlacedPoint point = { 1, { TRUE, SB_PANEL_TORQUE, SB_POINT_ON_CURVE, 0.01 } };
  sb_edit_set_points (document, &point, 1);
  assert_ptr_not_equal (sb_document_results (document)->bench, sb_document_bench (document));
  sb_chart_view_set_model (chart, sb_bench_page_chart (sb_window_page (fixture->window)), sb_document_bench (document));
  guint configuration[SB_N_CHART_POINTS];
  SbChartPoint shown[SB_N_CHART_POINTS];
  assert_int_equal (sb_chart_view_points (chart, configuration, shown), 1);
  assert_int_equal (configuration[0], 1);
  wait_for_results (fixture);
  assert_int_equal (sb_chart_view_points (chart, configuration, shown), 1);
}

static void
a_window_that_is_closed_leaves_nothing_behind (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  settle ();
  assert_null (fixture->watch);
}

static void
an_empty_window_is_called_by_the_program_and_has_no_bench_yet (void **state)
{
  Fixture *fixture = *state;
  assert_string_equal (gtk_window_get_title (GTK_WINDOW (fixture->window)), "Slewbench");
  assert_null (sb_window_page (fixture->window));
}

static void
what_needs_a_bench_cannot_be_used_without_one (void **state)
{
  Fixture *fixture = *state;
  assert_false (g_action_group_get_action_enabled (G_ACTION_GROUP (fixture->window), "export"));
  open_two_configurations (fixture);
  assert_true (g_action_group_get_action_enabled (G_ACTION_GROUP (fixture->window), "export"));
}

static void
an_edit_marks_the_title_as_unsaved_and_undo_takes_the_mark_away (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  assert_string_equal (gtk_window_get_title (GTK_WINDOW (fixture->window)), "• New session – Slewbench");
  g_autofree char *path = g_build_filename (fixture->folder, "bench.slewbench", NULL);
  assert_true (document_save (sb_window_document (fixture->window), path));
  assert_string_equal (gtk_window_get_title (GTK_WINDOW (fixture->window)), "bench – Slewbench");
  sb_edit_set_drawn (sb_window_document (fixture->window), 0, FALSE);
  assert_string_equal (gtk_window_get_title (GTK_WINDOW (fixture->window)), "• bench – Slewbench");
  sb_document_undo (sb_window_document (fixture->window));
  assert_string_equal (gtk_window_get_title (GTK_WINDOW (fixture->window)), "bench – Slewbench");
}

/* The keys of the list of shortcuts: "<Control>z", "F1 <Control>question". */
static gboolean
is_listed (const char *list, const char *accelerator)
{
  guint key, wanted_key;
  GdkModifierType state, wanted_state;
  assert_true (gtk_accelerator_parse (accelerator, &wanted_key, &wanted_state));
  g_auto (GStrv) parts = g_strsplit (list, "<property name=\"accelerator\">", -1);
  for (guint i = 1; i < g_strv_length (parts); i++) {
    g_autoptr (GString) keys = g_string_new_len (parts[i], (gssize) strcspn (parts[i], "<"));
    g_string_replace (keys, "&lt;", "<", 0);
    g_string_replace (keys, "&gt;", ">", 0);
    g_auto (GStrv) words = g_strsplit (keys->str, " ", -1);
    for (guint k = 0; words[k] != NULL; k++)
      if (gtk_accelerator_parse (words[k], &key, &state) && key == wanted_key && state == wanted_state)
        return TRUE;
  }
  return FALSE;
}

/* The first of its keys: the others are those of the number pad and of other layouts. */
static void
every_action_of_the_window_has_a_key_that_the_list_of_shortcuts_shows (void **state)
{
  Fixture *fixture = *state;
  g_autoptr (GtkApplication) application = gtk_application_new (NULL, G_APPLICATION_NON_UNIQUE);
  sb_actions_install (fixture->window, application);
  g_autoptr (GBytes) list
      = g_resources_lookup_data ("/org/slewbench/Slewbench/shortcuts.ui", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_auto (GStrv) names = g_action_group_list_actions (G_ACTION_GROUP (fixture->window));
  assert_true (g_strv_length (names) > 30);
  for (guint i = 0; names[i] != NULL; i++) {
    if (g_action_group_get_action_parameter_type (G_ACTION_GROUP (fixture->window), names[i]) != NULL)
      continue; /* not one that a person calls */
    g_autofree char *detailed = g_strconcat ("win.", names[i], NULL);
    g_auto (GStrv) keys = gtk_application_get_accels_for_action (application, detailed);
    if (keys[0] == NULL || !is_listed (g_bytes_get_data (list, NULL), keys[0]))
      fail_msg ("no shortcut is shown for %s", names[i]);
  }
}

/* Keys that do something of ours while the widget has the focus: of each thing done one is shown. */
static void
assert_keys_are_listed (GtkWidget *widget, const char *list, guint at_least)
{
  g_autoptr (GHashTable) done = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL); /* -> is it shown */
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  for (guint c = 0; c < g_list_model_get_n_items (controllers); c++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, c);
    for (guint i = 0; G_IS_LIST_MODEL (controller) && i < g_list_model_get_n_items (G_LIST_MODEL (controller)); i++) {
      g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), i);
      GtkShortcutAction *action = gtk_shortcut_get_action (shortcut);
      if (!GTK_IS_NAMED_ACTION (action))
        continue;
      GVariant *arguments = gtk_shortcut_get_arguments (shortcut);
      g_autofree char *with = arguments != NULL ? g_variant_print (arguments, FALSE) : g_strdup ("");
      g_autofree char *keys = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));
      char *what = g_strconcat (gtk_named_action_get_action_name (GTK_NAMED_ACTION (action)), " ", with, NULL);
      gboolean before = GPOINTER_TO_INT (g_hash_table_lookup (done, what));
      g_hash_table_replace (done, what, GINT_TO_POINTER (before || is_listed (list, keys)));
    }
  }
  GHashTableIter iter;
  gpointer what, shown;
  assert_true (g_hash_table_size (done) >= at_least);
  for (g_hash_table_iter_init (&iter, done); g_hash_table_iter_next (&iter, &what, &shown);)
    if (!GPOINTER_TO_INT (shown))
      fail_msg ("no shortcut is shown for %s", (const char *) what);
}

static void
keys_of_configurations_trials_and_chart_are_listed (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  GtkWidget *root = GTK_WIDGET (fixture->window);
  g_autoptr (GBytes) bytes
      = g_resources_lookup_data ("/org/slewbench/Slewbench/shortcuts.ui", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  const char *list = g_bytes_get_data (bytes, NULL);
  GtkWidget *row;
  while ((row = find_widget (root, SB_TYPE_CONFIGURATION_ROW)) == NULL) /* the list comes up a row at a time */
    g_main_context_iteration (NULL, TRUE);
  sb_configuration_row_show_trial (SB_CONFIGURATION_ROW (row), 0);
  assert_keys_are_listed (row, list, 12);
  assert_keys_are_listed (find_widget (root, SB_TYPE_TRIAL_ROWS), list, 8);
  assert_keys_are_listed (find_widget (root, SB_TYPE_CHART_VIEW), list, 16);
}

/* Ten turns of the wheel, one step of the history, once the hand rests. */
static void
many_zooms_are_one_step_of_the_history (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  SbDocument *document = sb_window_document (fixture->window);
  GtkWidget *chart = find_widget (GTK_WIDGET (fixture->window), SB_TYPE_CHART_VIEW);
  assert_non_null (chart);
  SbBench *before = sb_document_bench (document);
  for (int i = 0; i < 10; i++)
    sb_chart_view_zoom (SB_CHART_VIEW (chart), 0.8);
  assert_ptr_equal (sb_document_bench (document), before);
  gint64 end = g_get_monotonic_time () + PATIENCE_S * G_TIME_SPAN_SECOND;
  while (sb_document_bench (document) == before && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  assert_string_equal (sb_document_undo_step (document), "change the time shown");
  sb_document_undo (document);
  assert_ptr_equal (sb_document_bench (document), before);
}

/* A zoom by one half leaves half of the whole. */
static void
the_time_chosen_is_as_long_as_the_zoom_says (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  SbDocument *document = sb_window_document (fixture->window);
  GtkWidget *chart = find_widget (GTK_WIDGET (fixture->window), SB_TYPE_CHART_VIEW);
  g_autoptr (SbChartModel) whole = sb_bench_page_chart (sb_window_page (fixture->window));
  SbBench *before = sb_document_bench (document);
  sb_chart_view_zoom (SB_CHART_VIEW (chart), 0.5);
  while (sb_document_bench (document) == before)
    g_main_context_iteration (NULL, TRUE);
  const double *view = sb_document_bench (document)->chart.view_s;
  assert_close (view[1] - view[0], 0.5 * (whole->x_max - whole->x_min), 1e-9);
}

static gboolean
has_controller (GtkWidget *widget, GType type)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GObject) controller = g_list_model_get_item (controllers, i);
    if (G_TYPE_CHECK_INSTANCE_TYPE (controller, type))
      return TRUE;
  }
  return FALSE;
}

static SbTimeRange
pinched (SbChartView *chart, double x_px, double scale)
{
  SbTimeRange range;
  sb_chart_view_pinch (chart, x_px, scale);
  assert_true (sb_chart_view_get_range (chart, &range));
  return range;
}

/* Algebra: about a time t that stays where it is, a range of length L begins at t - f L, f being the share of the chart
 * left of it. So spreading the fingers to 2 and 4 times moves the begin by f L (1 - 1/2) and f L (1 - 1/4). */
static void
a_pinch_keeps_the_time_between_the_fingers (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations (fixture);
  GtkWidget *widget = find_widget (GTK_WIDGET (fixture->window), SB_TYPE_CHART_VIEW);
  assert_true (has_controller (widget, GTK_TYPE_GESTURE_ZOOM));
  gtk_test_widget_wait_for_draw (widget);
  SbChartView *chart = SB_CHART_VIEW (widget);
  double x_px = 0.5 * gtk_widget_get_width (widget);
  SbTimeRange all;
  assert_true (sb_chart_view_get_range (chart, &all));
  sb_chart_view_begin_pinch (chart, x_px);
  SbTimeRange twice = pinched (chart, x_px, 2), four = pinched (chart, x_px, 4);
  double length = all.to_s - all.from_s, share = (twice.from_s - all.from_s) / (length / 2);
  assert_close (twice.to_s - twice.from_s, length / 2, 1e-9);
  assert_true (share > 0.3 && share < 0.7); /* the axis at the left takes a part of the width */
  assert_close (four.from_s - all.from_s, share * length * 0.75, 1e-9);
  SbTimeRange moved = pinched (chart, x_px + 40, 4); /* what is shown goes with the fingers */
  assert_close (moved.to_s - moved.from_s, length / 4, 1e-9);
  assert_true (moved.from_s < four.from_s);
  SbTimeRange back = pinched (chart, x_px, 1);
  assert_close (back.from_s, all.from_s, 1e-9);
  assert_close (back.to_s, all.to_s, 1e-9);
}

/* Forty lines of trials in each of two panels are painted by a worker; only a painted chart follows the fingers. */
static void
a_chart_of_many_curves_is_there_after_a_while (void **state)
{
  Fixture *fixture = *state;
  open_two_configurations_of (fixture, 20);
  sb_edit_set_trial_lines (sb_window_document (fixture->window), TRUE);
  wait_for_results (fixture);
  SbChartView *chart = SB_CHART_VIEW (find_widget (GTK_WIDGET (fixture->window), SB_TYPE_CHART_VIEW));
  SbTimeRange all, shown;
  assert_true (sb_chart_view_get_range (chart, &all));
  gint64 end_us = g_get_monotonic_time () + PATIENCE_S * G_TIME_SPAN_SECOND;
  do {
    g_main_context_iteration (NULL, TRUE);
    sb_chart_view_begin_pinch (chart, 300);
    sb_chart_view_pinch (chart, 300, 2);
    assert_true (sb_chart_view_get_range (chart, &shown));
  } while (shown.to_s - shown.from_s > 0.51 * (all.to_s - all.from_s) && g_get_monotonic_time () < end_us);
  assert_close (shown.to_s - shown.from_s, 0.5 * (all.to_s - all.from_s), 1e-9);
}

/* "one" and "two", in this order. */
static void
remember_two_layouts (void)
{
  static const char *const names[] = { "one", "two" };
  g_autoptr (GPtrArray) choices = sb_layout_choices_new ();
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    SbLayout *layout = sb_layout_new ();
    g_free (layout->name);
    layout->name = g_strdup (names[i]);
    sb_layout_add_column (layout, names[i])->role = SB_ROLE_TIME;
    g_ptr_array_add (choices, sb_layout_choice_new (layout, NULL, TRUE));
  }
  g_autofree char *store = sb_layout_store_path ();
  assert_true (sb_layout_store_remember (store, choices, NULL));
}

static void
assert_remembered (const char *first, const char *second)
{
  g_autofree char *store = sb_layout_store_path ();
  g_autoptr (GPtrArray) choices = sb_layout_store_list (store, NULL);
  assert_int_equal (choices->len, 2);
  assert_string_equal (((SbLayoutChoice *) g_ptr_array_index (choices, 0))->layout->name, first);
  assert_string_equal (((SbLayoutChoice *) g_ptr_array_index (choices, 1))->layout->name, second);
}

/* The row of the list after `before`, which is made anew; NULL: at first. */
static GtkListBoxRow *
wait_for_second_row (GtkWidget *list, const GtkListBoxRow *before)
{
  GtkListBox *box = GTK_LIST_BOX (find_widget (list, GTK_TYPE_LIST_BOX));
  while (gtk_list_box_get_row_at_index (box, 1) == NULL || gtk_list_box_get_row_at_index (box, 1) == before)
    g_main_context_iteration (NULL, TRUE);
  return gtk_list_box_get_row_at_index (box, 1);
}

/* The field that was written in is taken away with its row when the list is read anew, and loses the focus then. */
static void
the_layout_whose_name_was_written_is_the_one_that_is_renamed (void **state)
{
  Fixture *fixture = *state;
  remember_two_layouts ();
  GtkWidget *list = sb_layout_list_new (GTK_WINDOW (fixture->window));
  gtk_window_present (GTK_WINDOW (list));
  GtkListBoxRow *row = wait_for_second_row (list, NULL);
  GtkWidget *entry = find_widget (GTK_WIDGET (row), GTK_TYPE_ENTRY);
  gtk_widget_grab_focus (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "renamed");
  g_signal_emit_by_name (entry, "activate");
  wait_for_second_row (list, row);
  for (int i = 0; i < 50; i++) { /* what would follow it would be another order for a worker */
    g_usleep (4000);
    settle ();
  }
  gtk_window_destroy (GTK_WINDOW (list));
  settle ();
  assert_remembered ("one", "renamed");
}

static void
a_sheet_goes_with_its_window (void **state)
{
  Fixture *fixture = *state;
  GtkWidget *list = sb_layout_list_new (GTK_WINDOW (fixture->window));
  gpointer watch = list;
  g_object_add_weak_pointer (G_OBJECT (list), &watch);
  gtk_window_present (GTK_WINDOW (list));
  settle ();
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  for (int i = 0; watch != NULL && i < 500; i++) { /* a worker may hold it */
    g_usleep (2000);
    settle ();
  }
  gboolean gone = watch == NULL;
  if (!gone)
    g_object_remove_weak_pointer (watch, &watch);
  assert_true (gone);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  if (!gtk_init_check ())
    return SKIPPED;
  sb_look_install ();
  /* What a person remembers on this computer is no part of a test. */
  g_autofree char *data = g_dir_make_tmp ("widgets-test-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", data, TRUE);
  g_setenv ("XDG_STATE_HOME", data, TRUE);
  const struct CMUnitTest tests[] = {
    CASE (a_window_that_is_closed_leaves_nothing_behind),
    CASE (an_empty_window_is_called_by_the_program_and_has_no_bench_yet),
    CASE (what_needs_a_bench_cannot_be_used_without_one),
    CASE (every_action_of_the_window_has_a_key_that_the_list_of_shortcuts_shows),
    CASE (keys_of_configurations_trials_and_chart_are_listed),
    CASE (an_edit_marks_the_title_as_unsaved_and_undo_takes_the_mark_away),
    CASE (many_zooms_are_one_step_of_the_history),
    CASE (the_time_chosen_is_as_long_as_the_zoom_says),
    CASE (a_pinch_keeps_the_time_between_the_fingers),
    CASE (a_chart_of_many_curves_is_there_after_a_while),
    CASE (the_layout_whose_name_was_written_is_the_one_that_is_renamed),
    CASE (points_of_the_bench_are_shown_on_older_results),
    CASE (a_sheet_goes_with_its_window),
  };
  int n_failed = cmocka_run_group_tests (tests, NULL, NULL);
  remove_folder (data);
  return n_failed;
}
