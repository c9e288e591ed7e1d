/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unsaved work on disk. What is expected is what unsaved_work.h states; a process that dies is one of the test's own,
 * killed by it. */
#include "bench_fixture.h"
#include "session.h"
#include "unsaved_work.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

static const char *
folder_of (BenchFixture *fixture)
{
  return path_in (fixture, "unsaved");
}

static void
fill (BenchFixture *fixture)
{
  const char *logs[] = { path_in (fixture, "a.csv"), path_in (fixture, "b.csv") };
  sb_bench_add_configuration (fixture->bench, "soft", logs, 2);
}

static void
kept_work_is_not_found_while_somebody_works_on_it_and_is_afterwards (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  g_autoptr (SbUnsavedWork) work = sb_unsaved_work_new (folder_of (fixture), &fixture->error);
  assert_non_null (work);
  assert_true (sb_unsaved_work_keep (work, fixture->bench, NULL, "/x/bench.slewbench", "abc", &fixture->error));
  g_autoptr (GPtrArray) none = sb_unsaved_work_find (folder_of (fixture));
  assert_int_equal (none->len, 0);
  g_clear_pointer (&work, sb_unsaved_work_free);
  g_autoptr (GPtrArray) found = sb_unsaved_work_find (folder_of (fixture));
  assert_int_equal (found->len, 1);
  const SbUnsavedWork *there = g_ptr_array_index (found, 0);
  assert_string_equal (there->session_path, "/x/bench.slewbench");
  assert_string_equal (there->digest, "abc");
  assert_int_equal (there->n_configurations, 1);
  assert_int_equal (there->n_trials, 2);
  assert_true (llabs (there->kept_us - g_get_real_time ()) < 60 * G_TIME_SPAN_SECOND);
  fixture->other_bench = sb_unsaved_work_read (there, &fixture->error);
  assert_non_null (fixture->other_bench);
  const SbConfiguration *configuration = sb_bench_configuration (fixture->other_bench, 0);
  assert_string_equal (configuration->name, "soft");
  assert_string_equal (sb_configuration_entry (configuration, 1)->path, path_in (fixture, "b.csv"));
  g_autoptr (GPtrArray) taken = sb_unsaved_work_find (folder_of (fixture)); /* offered once at a time */
  assert_int_equal (taken->len, 0);
}

static void
forgotten_work_is_not_found_and_leaves_nothing_behind (void **state)
{
  BenchFixture *fixture = *state;
  g_autoptr (SbUnsavedWork) work = sb_unsaved_work_new (folder_of (fixture), NULL);
  assert_true (sb_unsaved_work_keep (work, fixture->bench, NULL, NULL, NULL, NULL));
  sb_unsaved_work_forget (work);
  g_clear_pointer (&work, sb_unsaved_work_free);
  g_autoptr (GPtrArray) found = sb_unsaved_work_find (folder_of (fixture));
  assert_int_equal (found->len, 0);
  assert_int_equal (g_rmdir (folder_of (fixture)), 0); /* only an empty folder goes */
}

static void
work_of_a_killed_process_is_found (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  int ready[2];
  assert_int_equal (pipe (ready), 0);
  const char *folder = folder_of (fixture);
  pid_t child = fork ();
  if (child == 0) {
    SbUnsavedWork *work = sb_unsaved_work_new (folder, NULL);
    gboolean well = work != NULL && sb_unsaved_work_keep (work, fixture->bench, NULL, NULL, NULL, NULL);
    if (write (ready[1], well ? "y" : "n", 1) == 1)
      pause ();
    _exit (1);
  }
  char well = 0;
  assert_int_equal (read (ready[0], &well, 1), 1);
  g_autoptr (GPtrArray) before = sb_unsaved_work_find (folder);
  assert_int_equal (kill (child, SIGKILL), 0);
  assert_int_equal (waitpid (child, NULL, 0), child);
  close (ready[0]);
  close (ready[1]);
  assert_int_equal (well, 'y');
  assert_int_equal (before->len, 0);
  g_autoptr (GPtrArray) after = sb_unsaved_work_find (folder);
  assert_int_equal (after->len, 1);
}

/* Saves and keeps benches of 1, 2, 3, ... configurations until it is killed. */
static void
work_without_end (const char *session, const char *folder)
{
  SbUnsavedWork *work = sb_unsaved_work_new (folder, NULL);
  SbBench *bench = sb_bench_new ();
  for (guint i = 0; work != NULL && i < 100000; i++) {
    sb_bench_add_configuration (bench, "c", NULL, 0);
    if (!sb_unsaved_work_keep (work, bench, NULL, session, NULL, NULL) || !sb_session_save (bench, NULL, session, NULL))
      break;
  }
  _exit (1);
}

/* Whatever the instant, both files are whole: what was kept is never behind what was saved by more than the one that
 * was being written. */
static void
two_hundred_kills_leave_whole_files (void **state)
{
  BenchFixture *fixture = *state;
  const char *session = path_in (fixture, "a.slewbench"), *folder = folder_of (fixture);
  g_autoptr (GRand) random = g_rand_new_with_seed (1);
  guint n_found = 0;
  int latest_us = 20000; /* later where a busy machine's disk lets nothing be kept by then */
  for (guint i = 0; i < 200; i++) {
    g_remove (session);
    pid_t child = fork ();
    if (child == 0)
      work_without_end (session, folder);
    g_usleep ((gulong) g_rand_int_range (random, 0, latest_us));
    assert_int_equal (kill (child, SIGKILL), 0);
    assert_int_equal (waitpid (child, NULL, 0), child);
    g_autoptr (GPtrArray) found = sb_unsaved_work_find (folder);
    g_autoptr (SbBench) saved = g_file_test (session, G_FILE_TEST_EXISTS) ? sb_session_load (session, NULL) : NULL;
    assert_int_equal (saved != NULL, g_file_test (session, G_FILE_TEST_EXISTS));
    assert_true (found->len <= 1);
    if (found->len == 1) {
      SbUnsavedWork *work = g_ptr_array_index (found, 0);
      g_autoptr (SbBench) kept = sb_unsaved_work_read (work, NULL);
      assert_non_null (kept);
      assert_true (saved == NULL || kept->configurations->len >= saved->configurations->len);
      sb_unsaved_work_forget (work);
      n_found++;
    } else {
      assert_null (saved);
      latest_us = MIN (latest_us + 5000, 400000);
    }
  }
  assert_true (n_found > 50); /* else the kills came too early to tell anything */
}

static void
several_are_found_the_latest_first_and_unreadable_ones_are_told (void **state)
{
  BenchFixture *fixture = *state;
  for (guint i = 1; i <= 3; i++) {
    g_autoptr (SbUnsavedWork) work = sb_unsaved_work_new (folder_of (fixture), NULL);
    const char *log = "/logs/a.csv";
    sb_bench_add_configuration (fixture->bench, "c", &log, 1);
    assert_true (sb_unsaved_work_keep (work, fixture->bench, NULL, NULL, NULL, NULL));
    g_usleep (2000);
  }
  const char *broken = write_file (fixture, "unsaved/broken.unsaved", "{\"slewbench_unsaved\": 1");
  g_autoptr (GPtrArray) found = sb_unsaved_work_find (folder_of (fixture));
  assert_int_equal (found->len, 4);
  guint expected = 3, n_broken = 0;
  for (guint i = 0; i < found->len; i++) {
    const SbUnsavedWork *work = g_ptr_array_index (found, i);
    if (work->failure == NULL)
      assert_int_equal (work->n_configurations, expected--);
    else
      n_broken++;
  }
  assert_int_equal (n_broken, 1);
  assert_true (g_file_test (broken, G_FILE_TEST_EXISTS)); /* whatever it holds, it is a person's */
}

static void
folder_that_cannot_be_made_is_told (void **state)
{
  BenchFixture *fixture = *state;
  const char *file = write_file (fixture, "file", "");
  g_autoptr (SbUnsavedWork) work = sb_unsaved_work_new (file, &fixture->error);
  assert_null (work);
  assert_non_null (strstr (fixture->error->message, "cannot be kept"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (kept_work_is_not_found_while_somebody_works_on_it_and_is_afterwards),
    bench_test (forgotten_work_is_not_found_and_leaves_nothing_behind),
    bench_test (work_of_a_killed_process_is_found),
    bench_test (two_hundred_kills_leave_whole_files),
    bench_test (several_are_found_the_latest_first_and_unreadable_ones_are_told),
    bench_test (folder_that_cannot_be_made_is_told),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
