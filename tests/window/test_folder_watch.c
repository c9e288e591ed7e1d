/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Folders that change while a document has them open: real files, a real main loop, the usual pace but for the while
 * that a file must stand still. Expected values follow from what the test writes. */
#include "bench_files.h"
#include "document_save.h"
#include "edits.h"
#include "notice.h"
#include "close.h"
#include "folder.h"

#include <string.h>

#define SETTLE_MS  150
#define LOOK_MS    300
#define PATIENCE_S 20
/* Long enough for whatever is wrongly told to be told. */
#define SILENCE_MS 1200

typedef struct {
  char *folder;
  char *opened; /* a configuration of two logs, opened */
  SbDocument *document;
  GPtrArray *notices;
} Fixture;

static gboolean
on_time (gpointer up)
{
  *(gboolean *) up = TRUE;
  return G_SOURCE_CONTINUE;
}

static gboolean
is_busy (SbDocument *document)
{
  gsize n_done, n_total;
  return sb_document_busy (document, &n_done, &n_total);
}

static void
run_for (guint ms)
{
  gboolean up = FALSE;
  guint source = g_timeout_add (ms, on_time, &up);
  while (!up)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
}

/* Runs the main loop until `condition` holds and the results are there. */
#define WAIT_FOR(condition)                                                                                            \
  do {                                                                                                                 \
    gboolean late = FALSE;                                                                                             \
    guint source = g_timeout_add_seconds (PATIENCE_S, on_time, &late);                                                 \
    while (!((condition) && !is_busy (fixture->document)) && !late)                                                    \
      g_main_context_iteration (NULL, TRUE);                                                                           \
    g_source_remove (source);                                                                                          \
    assert_false (late);                                                                                               \
  } while (0)

static void
open_path (Fixture *fixture, const char *path)
{
  const char *const paths[] = { path, NULL };
  sb_document_add (fixture->document, paths);
  WAIT_FOR (TRUE);
}

static void
document_new (Fixture *fixture)
{
  fixture->document = sb_document_new ();
  sb_folder_watch_set_pace (sb_document_watch (fixture->document), SETTLE_MS, LOOK_MS);
}

static void
document_free (Fixture *fixture)
{
  sb_document_close (fixture->document);
  gpointer document = fixture->document;
  g_object_add_weak_pointer (G_OBJECT (fixture->document), &document);
  g_object_unref (fixture->document);
  for (int i = 0; document != NULL && i < 500; i++)
    run_for (10);
  g_assert_null (document);
}

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = bench_files_folder_new ();
  fixture->opened = bench_files_write_configuration (fixture->folder, "low", 2, 4);
  run_for (20); /* else the logs are as new as their opening, and are read twice to be sure */
  document_new (fixture);
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  document_free (fixture);
  g_clear_pointer (&fixture->notices, g_ptr_array_unref);
  bench_files_folder_free (fixture->folder);
  g_free (fixture->opened);
  g_free (fixture);
  return 0;
}

static void
write_log (const char *folder, const char *name, double top_nm)
{
  g_autofree char *log = bench_files_log (top_nm);
  g_autofree char *path = bench_files_write (folder, name, log);
}

static const SbConfiguration *
configuration_at (const Fixture *fixture, guint index)
{
  return sb_bench_configuration (sb_document_bench (fixture->document), index);
}

static guint
n_configurations (const Fixture *fixture)
{
  return sb_document_bench (fixture->document)->configurations->len;
}

/* Logs of the first configuration. */
static guint
n_logs (const Fixture *fixture)
{
  return configuration_at (fixture, 0)->entries->len;
}

static gboolean
has_notice (Fixture *fixture, SbNoticeKind kind, const char *words)
{
  g_clear_pointer (&fixture->notices, g_ptr_array_unref);
  const SbAnalysis *results = sb_document_results (fixture->document);
  if (results == NULL)
    return FALSE;
  fixture->notices = sb_notices_new (results, sb_document_news (fixture->document));
  for (guint i = 0; i < fixture->notices->len; i++) {
    const SbNotice *notice = g_ptr_array_index (fixture->notices, i);
    if (notice->kind == kind && strstr (notice->text, words) != NULL)
      return TRUE;
  }
  return FALSE;
}

static void
a_log_written_into_an_opened_folder_joins_with_a_step_and_a_notice (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  write_log (fixture->opened, "run-9.csv", 5);
  WAIT_FOR (n_logs (fixture) == 3);
  assert_string_equal (sb_document_undo_step (fixture->document), "add run-9.csv");
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 3);
  assert_true (has_notice (fixture, SB_NOTICE_NEWS, "run-9.csv joined low"));
  assert_false (sb_document_is_saved (fixture->document));
}

static void
logs_that_come_together_are_one_step (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  for (int i = 10; i > 7; i--) {
    g_autofree char *name = g_strdup_printf ("run-%d.csv", i);
    write_log (fixture->opened, name, 5);
  }
  WAIT_FOR (n_logs (fixture) == 5);
  assert_string_equal (sb_document_undo_step (fixture->document), "add 3 logs");
  assert_true (g_str_has_suffix (sb_configuration_entry (configuration_at (fixture, 0), 4)->path, "run-10.csv"));
  assert_true (has_notice (fixture, SB_NOTICE_NEWS, "3 logs joined low: run-8.csv, run-9.csv, run-10.csv"));
}

/* The log comes in 20 pieces, one every 50 ms: a third of what a file must stand still. */
static void
a_log_that_is_being_written_is_not_read_half (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  g_autofree char *log = bench_files_log (5);
  g_autofree char *path = g_build_filename (fixture->opened, "run-9.csv", NULL);
  gsize length = strlen (log), piece = length / 20 + 1;
  FILE *file = g_fopen (path, "w");
  assert_non_null (file);
  gboolean early = FALSE;
  for (gsize at = 0; at < length; at += piece) {
    fwrite (log + at, 1, MIN (piece, length - at), file);
    fflush (file);
    run_for (50);
    early = early || n_logs (fixture) != 2;
  }
  fclose (file);
  assert_false (early);
  WAIT_FOR (n_logs (fixture) == 3);
  /* 350 samples were written, and none of them is a torn line. */
  const SbTrialResult *result = sb_configuration_result_trial (sb_document_result (fixture->document, 0), 2);
  assert_int_equal (result->facts->n_rows, 350);
  assert_int_equal (result->facts->n_rows_left_out, 0);
}

static void
a_log_taken_out_by_undo_stays_out_and_redo_brings_it_back (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  write_log (fixture->opened, "run-9.csv", 5);
  WAIT_FOR (n_logs (fixture) == 3);
  sb_document_undo (fixture->document);
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 2);
  assert_false (has_notice (fixture, SB_NOTICE_NEWS, "run-9.csv"));
  write_log (fixture->opened, "run-9.csv", 5.5); /* not even when it changes */
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 2);
  assert_string_equal (sb_document_redo_step (fixture->document), "add run-9.csv");
  sb_document_redo (fixture->document);
  WAIT_FOR (n_logs (fixture) == 3);
}

static void
what_is_no_log_by_its_name_or_empty_does_not_join (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  write_log (fixture->opened, "notes.md", 5);
  write_log (fixture->opened, ".run-9.csv", 5);
  g_autofree char *empty = bench_files_write (fixture->opened, "run-10.csv", "");
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 2);
}

/* Nobody said that what lies beside a single file belongs to it. */
static void
logs_beside_single_opened_files_do_not_join (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *path = g_build_filename (fixture->opened, "run-1.csv", NULL);
  open_path (fixture, path);
  write_log (fixture->opened, "run-9.csv", 5);
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 1);
}

static void
a_new_folder_in_an_opened_one_becomes_a_configuration_with_all_its_logs (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->folder);
  assert_int_equal (n_configurations (fixture), 1);
  g_autofree char *added = bench_files_write_configuration (fixture->folder, "high", 3, 6);
  WAIT_FOR (n_configurations (fixture) == 2);
  assert_string_equal (configuration_at (fixture, 1)->name, "high");
  assert_int_equal (configuration_at (fixture, 1)->entries->len, 3);
  assert_string_equal (sb_document_undo_step (fixture->document), "add high");
  assert_int_equal (sb_document_bench (fixture->document)->other, 1);
  write_log (added, "run-9.csv", 7);
  WAIT_FOR (configuration_at (fixture, 1)->entries->len == 4);
}

static void
the_first_log_in_a_folder_that_was_empty_makes_a_configuration (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->folder);
  g_autofree char *later = g_build_filename (fixture->folder, "later", NULL);
  g_mkdir (later, 0700);
  run_for (SILENCE_MS);
  assert_int_equal (n_configurations (fixture), 1);
  write_log (later, "run-1.csv", 6);
  WAIT_FOR (n_configurations (fixture) == 2);
}

static void
a_configuration_that_was_removed_stays_removed_when_logs_come (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *high = bench_files_write_configuration (fixture->folder, "high", 2, 6);
  open_path (fixture, fixture->folder);
  sb_edit_remove (fixture->document, 0);
  write_log (high, "run-9.csv", 6);
  run_for (SILENCE_MS);
  assert_int_equal (n_configurations (fixture), 1);
  assert_string_equal (configuration_at (fixture, 0)->name, "low");
  open_path (fixture, high); /* unless it is opened by hand */
  assert_int_equal (n_configurations (fixture), 2);
  assert_int_equal (configuration_at (fixture, 1)->entries->len, 3);
}

/* A trial that was moved to another configuration is opened there, in its new place. */
static void
a_trial_that_was_moved_does_not_join_again (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *high = bench_files_write_configuration (fixture->folder, "high", 2, 6);
  open_path (fixture, fixture->folder);
  SbBench *edited = sb_bench_edit (sb_document_bench (fixture->document));
  sb_bench_move_trial (edited, 0, 0, 1);
  sb_document_push (fixture->document, edited, "move a trial");
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 1);
  sb_edit_include (fixture->document, 0, 0, FALSE);
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 1);
  assert_false (sb_configuration_entry (configuration_at (fixture, 0), 0)->included);
}

/* Peak of 4.0 N·m at first, 8.0 N·m after it was written anew. */
static void
an_opened_log_that_changes_is_read_again_without_a_step (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  const char *step = sb_document_undo_step (fixture->document);
  write_log (fixture->opened, "run-1.csv", 8);
  WAIT_FOR (has_notice (fixture, SB_NOTICE_NEWS, "run-1.csv of low changed on disk and was read again"));
  const SbTrialResult *result = sb_configuration_result_trial (sb_document_result (fixture->document, 0), 0);
  assert_close (result->measures->measure[SB_MEASURE_PEAK_TORQUE].value, 8, 1e-6);
  assert_string_equal (sb_document_undo_step (fixture->document), step);
  assert_true (sb_document_results_are_current (fixture->document));
}

static void
a_log_that_vanishes_is_kept_with_a_notice_until_it_is_back (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  g_autofree char *path = g_build_filename (fixture->opened, "run-1.csv", NULL);
  g_autofree char *away = g_build_filename (fixture->folder, "run-1.csv", NULL);
  run_for (LOOK_MS); /* it is seen before it goes, else it could be another when it comes back */
  assert_int_equal (g_rename (path, away), 0);
  WAIT_FOR (has_notice (fixture, SB_NOTICE_REMARK, "no longer in its folder"));
  assert_int_equal (n_logs (fixture), 2);
  sb_edit_set_band (fixture->document, SB_BAND_RANGE); /* results are made anew, without the file */
  WAIT_FOR (sb_document_results_are_current (fixture->document));
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 2);
  assert_int_equal (g_rename (away, path), 0);
  WAIT_FOR (!has_notice (fixture, SB_NOTICE_REMARK, "no longer in its folder"));
  assert_false (has_notice (fixture, SB_NOTICE_NEWS, "read again")); /* it is the same */
}

static void
a_failing_folder_is_not_told_once_nothing_comes_from_it (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  g_autofree char *away = g_strconcat (fixture->opened, " away", NULL);
  assert_int_equal (g_rename (fixture->opened, away), 0);
  WAIT_FOR (has_notice (fixture, SB_NOTICE_REMARK, "the folder is no longer there"));
  sb_edit_remove (fixture->document, 0);
  WAIT_FOR (!has_notice (fixture, SB_NOTICE_REMARK, "the folder is no longer there"));
}

static void
a_folder_that_vanishes_is_told_once_and_watched_when_it_is_back (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  g_autofree char *away = g_strconcat (fixture->opened, " away", NULL);
  assert_int_equal (g_rename (fixture->opened, away), 0);
  WAIT_FOR (has_notice (fixture, SB_NOTICE_REMARK, "the folder is no longer there"));
  run_for (SILENCE_MS);
  has_notice (fixture, SB_NOTICE_REMARK, "");
  guint n_remarks = 0;
  for (guint i = 0; i < fixture->notices->len; i++)
    n_remarks += ((const SbNotice *) g_ptr_array_index (fixture->notices, i))->kind == SB_NOTICE_REMARK ? 1 : 0;
  assert_int_equal (n_remarks, 1);
  assert_int_equal (sb_document_result (fixture->document, 0)->n_used, 2);
  assert_int_equal (g_rename (away, fixture->opened), 0);
  WAIT_FOR (!has_notice (fixture, SB_NOTICE_REMARK, "the folder is no longer there"));
  write_log (fixture->opened, "run-9.csv", 5);
  WAIT_FOR (n_logs (fixture) == 3);
}

static char *
save_session (Fixture *fixture)
{
  char *path = g_build_filename (fixture->folder, "bench.slewbench", NULL);
  g_assert_true (document_save (fixture->document, path));
  return path;
}

/* run-9 was taken out before the session was saved, run-10 came while it was closed. */
static void
an_opened_session_takes_in_what_came_meanwhile_but_not_what_was_taken_out (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  write_log (fixture->opened, "run-9.csv", 5);
  WAIT_FOR (n_logs (fixture) == 3);
  sb_document_undo (fixture->document);
  WAIT_FOR (TRUE);
  g_autofree char *path = save_session (fixture);
  assert_true (sb_document_is_saved (fixture->document));
  document_free (fixture);
  document_new (fixture);
  write_log (fixture->opened, "run-10.csv", 5);
  sb_document_open (fixture->document, path);
  WAIT_FOR (n_configurations (fixture) == 1 && n_logs (fixture) == 3);
  run_for (SILENCE_MS);
  assert_int_equal (n_logs (fixture), 3);
  assert_true (g_str_has_suffix (sb_configuration_entry (configuration_at (fixture, 0), 2)->path, "run-10.csv"));
  assert_true (has_notice (fixture, SB_NOTICE_NEWS, "run-10.csv joined low"));
  assert_false (sb_document_is_saved (fixture->document));
}

/* A table that is exported into a watched folder is none of its logs: the session has to say so. */
static void
what_was_passed_over_since_saving_is_unsaved_work (void **state)
{
  Fixture *fixture = *state;
  open_path (fixture, fixture->opened);
  g_autofree char *path = save_session (fixture);
  g_autofree char *table = g_build_filename (fixture->opened, "table.csv", NULL);
  assert_true (sb_document_is_saved (fixture->document));
  sb_folder_watch_pass_over (sb_document_watch (fixture->document), table);
  assert_false (sb_document_is_saved (fixture->document));
  g_free (save_session (fixture));
  assert_true (sb_document_is_saved (fixture->document));
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (a_log_written_into_an_opened_folder_joins_with_a_step_and_a_notice),
    CASE (logs_that_come_together_are_one_step),
    CASE (a_log_that_is_being_written_is_not_read_half),
    CASE (a_log_taken_out_by_undo_stays_out_and_redo_brings_it_back),
    CASE (what_is_no_log_by_its_name_or_empty_does_not_join),
    CASE (logs_beside_single_opened_files_do_not_join),
    CASE (a_new_folder_in_an_opened_one_becomes_a_configuration_with_all_its_logs),
    CASE (the_first_log_in_a_folder_that_was_empty_makes_a_configuration),
    CASE (a_configuration_that_was_removed_stays_removed_when_logs_come),
    CASE (a_trial_that_was_moved_does_not_join_again),
    CASE (an_opened_log_that_changes_is_read_again_without_a_step),
    CASE (a_log_that_vanishes_is_kept_with_a_notice_until_it_is_back),
    CASE (a_failing_folder_is_not_told_once_nothing_comes_from_it),
    CASE (a_folder_that_vanishes_is_told_once_and_watched_when_it_is_back),
    CASE (what_was_passed_over_since_saving_is_unsaved_work),
    CASE (an_opened_session_takes_in_what_came_meanwhile_but_not_what_was_taken_out),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
