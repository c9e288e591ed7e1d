/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document and its edits without a screen. Expected values follow from the files that bench_files.c writes and from
 * what each edit says it does. */
#include "bench_files.h"
#include "document_save.h"
#include "edits.h"
#include "close.h"
#include "folder.h"
#include "layout_store.h"

#include <glib/gstdio.h>
#include <string.h>

#define PATIENCE_S 20

typedef struct {
  char *folder;
  SbDocument *document;
  char *failure;
  guint n_changes;
} Fixture;

static void
on_failed (SbDocument *document, const char *what, Fixture *fixture)
{
  g_free (fixture->failure);
  fixture->failure = g_strdup (what);
}

static void
on_bench_changed (SbDocument *document, Fixture *fixture)
{
  fixture->n_changes++;
}

static gboolean
on_impatience (gpointer late)
{
  *(gboolean *) late = TRUE;
  return G_SOURCE_CONTINUE;
}

static void
wait_until_done (Fixture *fixture)
{
  gboolean late = FALSE;
  guint source = g_timeout_add_seconds (PATIENCE_S, on_impatience, &late);
  gsize n_done, n_total;
  while (sb_document_busy (fixture->document, &n_done, &n_total) && !late)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
  assert_false (late);
}

static void
add (Fixture *fixture, const char *path)
{
  const char *const paths[] = { path, NULL };
  sb_document_add (fixture->document, paths);
  wait_until_done (fixture);
}

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = bench_files_folder_new ();
  fixture->document = sb_document_new ();
  g_signal_connect (fixture->document, "failed", G_CALLBACK (on_failed), fixture);
  g_signal_connect (fixture->document, "bench-changed", G_CALLBACK (on_bench_changed), fixture);
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  sb_document_close (fixture->document);
  gpointer document = fixture->document;
  g_object_add_weak_pointer (G_OBJECT (fixture->document), &document);
  g_object_unref (fixture->document);
  while (g_main_context_iteration (NULL, FALSE)) {
  }
  for (int i = 0; document != NULL && i < 500; i++) { /* cancelled workers still hold it for a moment */
    g_usleep (2000);
    while (g_main_context_iteration (NULL, FALSE)) {
    }
  }
  bench_files_folder_free (fixture->folder);
  g_free (fixture->failure);
  g_free (fixture);
  return document == NULL ? 0 : -1;
}

static void
add_two_configurations (Fixture *fixture)
{
  g_autofree char *low = bench_files_write_configuration (fixture->folder, "low", 3, 4);
  g_autofree char *high = bench_files_write_configuration (fixture->folder, "high", 2, 6);
  add (fixture, low);
  add (fixture, high);
}

static void
a_folder_of_folders_becomes_a_configuration_each_with_results (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *low = bench_files_write_configuration (fixture->folder, "low", 3, 4);
  g_autofree char *high = bench_files_write_configuration (fixture->folder, "high", 2, 6);
  add (fixture, fixture->folder);
  assert_true (sb_document_results_are_current (fixture->document));
  assert_int_equal (sb_document_bench (fixture->document)->configurations->len, 2);
  assert_string_equal (sb_document_result (fixture->document, 0)->name, "high");
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 2);
  assert_int_equal (sb_document_result (fixture->document, 1)->n_used, 3);
}

static void
a_path_that_does_not_exist_is_told_and_changes_nothing (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *missing = g_build_filename (fixture->folder, "no-such-log.csv", NULL);
  add (fixture, missing);
  assert_non_null (fixture->failure);
  assert_non_null (strstr (fixture->failure, "no-such-log.csv"));
  assert_true (sb_bench_is_empty (sb_document_bench (fixture->document)));
}

static void
excluding_a_trial_is_one_named_step_and_leaves_it_out_of_the_results (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  sb_edit_include (fixture->document, 0, 1, FALSE);
  wait_until_done (fixture);
  assert_string_equal (sb_document_undo_step (fixture->document), "exclude run-2.csv");
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 2);
  sb_document_undo (fixture->document);
  wait_until_done (fixture);
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 3);
  assert_string_equal (sb_document_redo_step (fixture->document), "exclude run-2.csv");
}

static void
an_edit_that_changes_nothing_is_no_step (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  guint n_changes = fixture->n_changes;
  sb_edit_include (fixture->document, 0, 0, TRUE);
  sb_edit_set_drawn (fixture->document, 0, TRUE);
  sb_edit_rename (fixture->document, 0, " low ");
  sb_edit_rename (fixture->document, 0, "  ");
  sb_edit_set_role (fixture->document, 0, SB_SIDE_REFERENCE, TRUE);
  sb_edit_set_view (fixture->document, (double) NAN, (double) NAN);
  assert_int_equal (fixture->n_changes, n_changes);
}

static void
a_name_that_is_taken_gets_a_number (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  sb_edit_rename (fixture->document, 1, "low");
  assert_string_equal (sb_bench_configuration (sb_document_bench (fixture->document), 1)->name, "low (2)");
}

static void
the_one_that_becomes_reference_trades_places_with_it (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  assert_int_equal (sb_document_bench (fixture->document)->reference, 0);
  assert_int_equal (sb_document_bench (fixture->document)->other, 1);
  sb_edit_set_role (fixture->document, 1, SB_SIDE_REFERENCE, TRUE);
  assert_int_equal (sb_document_bench (fixture->document)->reference, 1);
  assert_int_equal (sb_document_bench (fixture->document)->other, 0);
}

static void
the_last_panel_cannot_be_hidden (void **state)
{
  Fixture *fixture = *state;
  for (guint i = 0; i < SB_N_PANELS; i++)
    sb_edit_show_panel (fixture->document, (SbPanel) i, FALSE);
  guint panels = sb_document_bench (fixture->document)->chart.panels;
  assert_true (panels != 0 && (panels & (panels - 1)) == 0);
}

/* Many changes in a row: each cancels the run before it, and the last one's results are the ones that stay. */
static void
results_are_of_the_last_of_many_quick_changes (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  for (guint i = 0; i < 25; i++)
    sb_edit_include (fixture->document, 0, 0, i % 2 != 0);
  wait_until_done (fixture);
  assert_true (sb_document_results_are_current (fixture->document));
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 2);
}

static void
a_saved_session_opens_with_the_same_choices_and_counts_as_saved (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  sb_edit_rename (fixture->document, 0, "slow");
  assert_false (sb_document_is_saved (fixture->document));
  g_autofree char *path = g_build_filename (fixture->folder, "bench.slewbench", NULL);
  assert_true (document_save (fixture->document, path));
  assert_true (sb_document_is_saved (fixture->document));
  sb_edit_rename (fixture->document, 0, "changed");
  sb_document_open (fixture->document, path);
  wait_until_done (fixture);
  assert_string_equal (sb_bench_configuration (sb_document_bench (fixture->document), 0)->name, "slow");
  assert_true (sb_document_is_saved (fixture->document));
  assert_null (sb_document_undo_step (fixture->document));
}

/* What was added is in no file; what comes with the program can be had again. */
static void
added_folders_are_unsaved_work_but_not_what_comes_with_the_program (void **state)
{
  Fixture *fixture = *state;
  assert_false (sb_document_has_unsaved_work (fixture->document));
  g_autofree char *low = bench_files_write_configuration (fixture->folder, "low", 2, 4);
  const char *const paths[] = { low, NULL };
  sb_document_add_ours (fixture->document, paths);
  wait_until_done (fixture);
  assert_false (sb_document_has_unsaved_work (fixture->document));
  add (fixture, low);
  assert_true (sb_document_has_unsaved_work (fixture->document));
  sb_document_undo (fixture->document);
  assert_false (sb_document_has_unsaved_work (fixture->document));
  sb_document_undo (fixture->document); /* nothing is left, and there is no file */
  assert_false (sb_document_has_unsaved_work (fixture->document));
}

static void
save_over_changes (Fixture *fixture, const char *path, SbOverChanges over, gboolean well)
{
  DocumentSave save = { 0 };
  sb_document_save_async (fixture->document, path, over, document_save_on_done, &save);
  while (!save.done)
    g_main_context_iteration (NULL, TRUE);
  assert_int_equal (save.well, well);
}

static void
session_changed_on_disk_is_written_over_only_when_a_person_says_so (void **state)
{
  Fixture *fixture = *state;
  add_two_configurations (fixture);
  g_autofree char *path = g_build_filename (fixture->folder, "bench.slewbench", NULL);
  save_over_changes (fixture, path, SB_OVER_CHANGES_ASK, TRUE);
  sb_edit_rename (fixture->document, 0, "mine");
  assert_true (g_file_set_contents (path, "theirs", -1, NULL));
  save_over_changes (fixture, path, SB_OVER_CHANGES_ASK, FALSE);
  assert_false (sb_document_is_saved (fixture->document));
  g_autofree char *left = NULL;
  assert_true (g_file_get_contents (path, &left, NULL, NULL));
  assert_string_equal (left, "theirs");
  save_over_changes (fixture, path, SB_OVER_CHANGES_WRITE, TRUE);
  assert_true (sb_document_is_saved (fixture->document));
  sb_edit_rename (fixture->document, 0, "again");
  save_over_changes (fixture, path, SB_OVER_CHANGES_ASK, TRUE); /* its own writing is no change by another */
}

static void
recovered_work_is_unsaved_and_belongs_to_its_session (void **state)
{
  Fixture *fixture = *state;
  g_autoptr (SbBench) bench = sb_bench_new ();
  sb_bench_add_configuration (bench, "found", NULL, 0);
  sb_document_recover (fixture->document, bench, "/x/bench.slewbench", "abc");
  wait_until_done (fixture);
  assert_true (sb_document_has_unsaved_work (fixture->document));
  assert_string_equal (sb_document_path (fixture->document), "/x/bench.slewbench");
  assert_null (sb_document_undo_step (fixture->document));
}

/* FOLDER/NAME.csv, in which the command holds each of the levels for 100 ms and the torque is the command. */
static char *
write_levels (Fixture *fixture, const char *name, const int *levels, int n)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < 100 * n; i++)
    g_string_append_printf (text, "%d.%03d,%d,%d\n", i / 1000, i % 1000, levels[i / 100], levels[i / 100]);
  return bench_files_write (fixture->folder, name, text->str);
}

static guint
n_trials (Fixture *fixture)
{
  return sb_bench_configuration (sb_document_bench (fixture->document), 0)->entries->len;
}

static void
add_pulses (Fixture *fixture)
{
  g_autofree char *path = write_levels (fixture, "pulses.csv", (const int[]){ 0, 8, 0, 8, 0, 8, 0 }, 7);
  add (fixture, path);
}

static void
steps_of_an_added_log_are_part_of_the_same_step_of_undo (void **state)
{
  Fixture *fixture = *state;
  add_pulses (fixture);
  assert_int_equal (n_trials (fixture), 3);
  assert_true (sb_document_results_are_current (fixture->document));
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 3);
  assert_string_equal (sb_document_undo_step (fixture->document), "add pulses");
  const SbNewsItem *news = g_ptr_array_index (sb_document_news (fixture->document)->items, 0);
  assert_string_equal (news->text, "pulses.csv was cut into 3 steps, a trial each");
  sb_document_undo (fixture->document);
  assert_true (sb_bench_is_empty (sb_document_bench (fixture->document)));
  sb_document_redo (fixture->document);
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 3);
}

/* What a logger has written of three pulses when it pauses holds one of them. */
static void
steps_of_a_log_that_has_grown_are_found (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *path = write_levels (fixture, "pulses.csv", (const int[]){ 0, 8 }, 2);
  add (fixture, path);
  assert_int_equal (n_trials (fixture), 1);
  g_autofree char *same = write_levels (fixture, "pulses.csv", (const int[]){ 0, 8, 0, 8, 0, 8, 0 }, 7);
  sb_document_read_anew (fixture->document, (const char *const[]){ same, NULL });
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 3);
  assert_string_equal (sb_document_undo_step (fixture->document), "add pulses");
}

/* A choice made while the log was being read stays where it is in the history. */
static void
steps_found_after_another_choice_are_a_step_of_their_own (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *path = write_levels (fixture, "pulses.csv", (const int[]){ 0, 8, 0, 8, 0 }, 5);
  const char *const paths[] = { path, NULL };
  sb_document_add (fixture->document, paths);
  while (sb_bench_is_empty (sb_document_bench (fixture->document)))
    g_main_context_iteration (NULL, TRUE);
  sb_edit_rename (fixture->document, 0, "mine");
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 2);
  assert_string_equal (sb_document_undo_step (fixture->document), "cut 2 steps");
  sb_document_undo (fixture->document);
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 1); /* and it is not cut again */
  assert_string_equal (sb_bench_configuration (sb_document_bench (fixture->document), 0)->name, "mine");
}

/* Where the bench of a chart may go without taking the place of a person's work. */
static void
document_is_blank_until_anything_was_done_to_it (void **state)
{
  Fixture *fixture = *state;
  assert_true (sb_document_is_blank (fixture->document));
  g_autofree char *path = write_levels (fixture, "steps.csv", (const int[]){ 0, 8 }, 2);
  const char *const paths[] = { path, NULL };
  sb_document_add (fixture->document, paths);
  assert_false (sb_document_is_blank (fixture->document)); /* it is on its way */
  wait_until_done (fixture);
  assert_false (sb_document_is_blank (fixture->document));
  while (sb_document_undo_step (fixture->document) != NULL)
    sb_document_undo (fixture->document);
  wait_until_done (fixture);
  assert_false (sb_document_is_blank (fixture->document)); /* it can be done again */
}

static void
joined_steps_are_one_trial_until_undone (void **state)
{
  Fixture *fixture = *state;
  add_pulses (fixture);
  sb_edit_join (fixture->document, 0, 1);
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 1);
  assert_string_equal (sb_document_undo_step (fixture->document), "join the steps of pulses.csv");
  sb_document_undo (fixture->document);
  assert_int_equal (n_trials (fixture), 3);
}

static void
choice_of_steps_makes_logs_whole_and_cuts_them_again (void **state)
{
  Fixture *fixture = *state;
  add_pulses (fixture);
  sb_edit_set_steps (fixture->document, SB_STEPS_FIRST);
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 1);
  sb_edit_set_steps (fixture->document, SB_STEPS_ALL);
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 3);
  assert_string_equal (sb_document_undo_step (fixture->document), "make each step of a log a trial");
  sb_document_undo (fixture->document);
  assert_int_equal (n_trials (fixture), 1);
}

static void
cut_by_hand_is_one_named_step (void **state)
{
  Fixture *fixture = *state;
  add_pulses (fixture);
  const SbConfigurationResult *result = sb_document_result (fixture->document, 0);
  SbLog *log = sb_configuration_result_trial (result, 0)->trial->log;
  g_autofree char *path = g_strdup (log->path);
  const SbCut cuts[] = { { NAN, 0.25, 0, 8 }, { 0.25, NAN, 0, 8 } };
  sb_edit_cut_at (fixture->document, 0, path, cuts, 2);
  wait_until_done (fixture);
  assert_int_equal (n_trials (fixture), 2);
  assert_string_equal (sb_document_undo_step (fixture->document), "cut pulses.csv into 2 steps");
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 2);
}

/* Two shapes are remembered: that of the added log, whose headings say nothing, and one of no log. */
static void
remembered_layout_is_taken_with_the_log_that_it_is_for (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *named = bench_files_log (5);
  g_autofree char *text = g_strconcat ("k,l,n,o,m", strchr (named, '\n'), NULL);
  g_autofree char *log = bench_files_write (fixture->folder, "unnamed.csv", text);
  g_autofree char *file
      = bench_files_write (fixture->folder, "layouts.json",
                           "{\"layouts\": [{\"columns\": [{\"name\": \"x\", \"role\": \"torque\"}]}, {\"columns\": ["
                           "{\"name\": \"k\", \"role\": \"time\"}, {\"name\": \"l\", \"role\": \"command\"}, "
                           "{\"name\": \"m\", \"role\": \"torque\"}]}]}");
  g_autoptr (GPtrArray) layouts = sb_layout_file_read (file, NULL);
  g_autofree char *store = sb_layout_store_path ();
  assert_non_null (layouts);
  assert_true (sb_layout_store_remember (store, layouts, NULL));
  add (fixture, log);
  g_remove (store);
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 1);
  assert_non_null (sb_document_bench (fixture->document)->layouts);
  assert_int_equal (sb_document_bench (fixture->document)->layouts->len, 1);
  sb_document_undo (fixture->document); /* the log and its layout are one step */
  assert_null (sb_document_bench (fixture->document)->layouts);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (a_folder_of_folders_becomes_a_configuration_each_with_results),
    CASE (a_path_that_does_not_exist_is_told_and_changes_nothing),
    CASE (excluding_a_trial_is_one_named_step_and_leaves_it_out_of_the_results),
    CASE (an_edit_that_changes_nothing_is_no_step),
    CASE (a_name_that_is_taken_gets_a_number),
    CASE (the_one_that_becomes_reference_trades_places_with_it),
    CASE (the_last_panel_cannot_be_hidden),
    CASE (results_are_of_the_last_of_many_quick_changes),
    CASE (steps_of_an_added_log_are_part_of_the_same_step_of_undo),
    CASE (steps_of_a_log_that_has_grown_are_found),
    CASE (steps_found_after_another_choice_are_a_step_of_their_own),
    CASE (document_is_blank_until_anything_was_done_to_it),
    CASE (joined_steps_are_one_trial_until_undone),
    CASE (choice_of_steps_makes_logs_whole_and_cuts_them_again),
    CASE (cut_by_hand_is_one_named_step),
    CASE (remembered_layout_is_taken_with_the_log_that_it_is_for),
    CASE (added_folders_are_unsaved_work_but_not_what_comes_with_the_program),
    CASE (session_changed_on_disk_is_written_over_only_when_a_person_says_so),
    CASE (recovered_work_is_unsaved_and_belongs_to_its_session),
    CASE (a_saved_session_opens_with_the_same_choices_and_counts_as_saved),
  };
  /* What a person remembers on this computer is no part of a test. */
  g_autofree char *data = g_dir_make_tmp ("document-test-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", data, TRUE);
  g_setenv ("XDG_STATE_HOME", data, TRUE);
  int n_failed = cmocka_run_group_tests (tests, NULL, NULL);
  remove_folder (data);
  return n_failed;
}
