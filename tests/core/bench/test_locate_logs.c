/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs found again. What is expected follows from the files that each test writes: a log is found when its name and its
 * content, by GLib's own SHA-256, are what they were. */
#include "bench_fixture.h"
#include "locate_logs.h"

/* A configuration of logs that were here when their SHA-256 was taken: "run N" for run-N.csv. */
static void
fill (BenchFixture *fixture, guint n)
{
  sb_bench_add_configuration (fixture->bench, "soft", NULL, 0);
  for (guint i = 1; i <= n; i++) {
    g_autofree char *text = g_strdup_printf ("run %u", i), *name = g_strdup_printf ("old/soft/run-%u.csv", i);
    g_autofree char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
    SbTrialEntry entry = { .path = g_ref_string_new (path_in (fixture, name)),
                           .included = TRUE,
                           .sha256 = g_ref_string_new (sha256),
                           .size_bytes = strlen (text),
                           .choices = SB_TRIAL_CHOICES_NONE };
    sb_bench_add_entry (fixture->bench, 0, &entry);
    sb_trial_entry_clear (&entry);
  }
}

static const char *
path_of (const SbBench *bench, guint trial)
{
  return sb_configuration_entry (sb_bench_configuration (bench, 0), trial)->path;
}

static void
logs_are_found_by_name_and_content_below_one_folder (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture, 2);
  sb_bench_set_folder (fixture->bench, 0, path_in (fixture, "old/soft"), path_in (fixture, "old"));
  const char *first = write_file (fixture, "new/deep/soft/run-1.csv", "run 1");
  const char *second = write_file (fixture, "new/deep/soft/run-2.csv", "run 2");
  write_file (fixture, "new/another/run-1.csv", "not this one");
  g_auto (SbLocateReport) report = { 0 };
  fixture->other_bench = sb_bench_locate_logs (fixture->bench, NULL, path_in (fixture, "new"), NULL, &report);
  assert_non_null (fixture->other_bench);
  assert_string_equal (path_of (fixture->other_bench, 0), first);
  assert_string_equal (path_of (fixture->other_bench, 1), second);
  assert_int_equal (report.n_lost, 2);
  assert_int_equal (report.n_found, 2);
  assert_int_equal (report.others->len + report.left->len, 0);
  const SbConfiguration *configuration = sb_bench_configuration (fixture->other_bench, 0);
  assert_string_equal (configuration->folder, path_in (fixture, "new/deep/soft"));
  assert_string_equal (configuration->opened_folder, path_in (fixture, "new/deep"));
}

static void
log_of_the_same_name_and_another_content_is_not_taken (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture, 2);
  write_file (fixture, "new/run-1.csv", "run 1, mended");
  g_auto (SbLocateReport) report = { 0 };
  fixture->other_bench = sb_bench_locate_logs (fixture->bench, NULL, path_in (fixture, "new"), NULL, &report);
  assert_null (fixture->other_bench);
  assert_int_equal (report.n_found, 0);
  assert_string_equal (g_ptr_array_index (report.others, 0), "run-1.csv");
  assert_string_equal (g_ptr_array_index (report.left, 0), "run-2.csv");
  const char *text = keep (fixture, sb_locate_report_text (&report));
  assert_string_equal (text, "0 of 2 logs were found. Another content than the session's, and not taken: run-1.csv. "
                             "Not there: run-2.csv.");
}

/* Else the other run-1 would join as a new log. */
static void
folder_stays_while_one_of_its_logs_is_not_found (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture, 2);
  sb_bench_set_folder (fixture->bench, 0, path_in (fixture, "old/soft"), NULL);
  write_file (fixture, "new/run-1.csv", "another");
  write_file (fixture, "new/run-2.csv", "run 2");
  g_auto (SbLocateReport) report = { 0 };
  fixture->other_bench = sb_bench_locate_logs (fixture->bench, NULL, path_in (fixture, "new"), NULL, &report);
  assert_string_equal (path_of (fixture->other_bench, 1), path_in (fixture, "new/run-2.csv"));
  assert_string_equal (sb_bench_configuration (fixture->other_bench, 0)->folder, path_in (fixture, "old/soft"));
}

static void
log_that_is_where_it_was_stays_there (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture, 1);
  write_file (fixture, "old/soft/run-1.csv", "run 1");
  write_file (fixture, "new/run-1.csv", "run 1");
  g_auto (SbLocateReport) report = { 0 };
  fixture->other_bench = sb_bench_locate_logs (fixture->bench, NULL, path_in (fixture, "new"), NULL, &report);
  assert_null (fixture->other_bench);
  assert_int_equal (report.n_lost, 0);
}

/* The file at the old place is another log now: the one of the session is found elsewhere. */
static void
changed_log_is_found_where_its_old_content_is (void **state)
{
  BenchFixture *fixture = *state;
  const char *old = write_step (fixture, "run-1.csv", STEP_LOG);
  char *bytes = NULL;
  assert_true (g_file_get_contents (old, &bytes, NULL, NULL));
  const char *kept = write_file (fixture, "kept/run-1.csv", keep (fixture, bytes));
  write_step (fixture, "run-1.csv", (StepLog){ .interval_ms = 1, .ramp_ms = 30, .length_ms = 250 });
  sb_bench_add_configuration (fixture->bench, "a", &old, 1);
  g_autofree char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, bytes, -1);
  sb_configuration_entry (sb_bench_configuration (fixture->bench, 0), 0)->sha256 = g_ref_string_new (sha256);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_true (sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0)->is_lost);
  g_auto (SbLocateReport) report = { 0 };
  fixture->other_bench
      = sb_bench_locate_logs (fixture->bench, fixture->analysis, path_in (fixture, "kept"), NULL, &report);
  assert_non_null (fixture->other_bench);
  assert_string_equal (path_of (fixture->other_bench, 0), kept);
}

static void
log_of_which_only_the_name_is_known_is_found_when_one_file_has_it (void **state)
{
  BenchFixture *fixture = *state;
  const char *logs[] = { path_in (fixture, "old/a.csv"), path_in (fixture, "old/b.csv") };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  write_file (fixture, "new/a.csv", "x");
  write_file (fixture, "new/b.csv", "x");
  write_file (fixture, "new/again/b.csv", "x");
  g_auto (SbLocateReport) report = { 0 };
  fixture->other_bench = sb_bench_locate_logs (fixture->bench, NULL, path_in (fixture, "new"), NULL, &report);
  assert_string_equal (path_of (fixture->other_bench, 0), path_in (fixture, "new/a.csv"));
  assert_string_equal (path_of (fixture->other_bench, 1), logs[1]);
  assert_int_equal (report.n_by_name, 1);
}

static void
log_that_cannot_be_opened_is_lost_and_one_without_rows_is_not (void **state)
{
  BenchFixture *fixture = *state;
  const char *logs[] = { path_in (fixture, "none.csv"), write_file (fixture, "letter.csv", "Dear Sir,\n") };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  const SbConfigurationResult *result = sb_analysis_configuration (fixture->analysis, 0);
  assert_true (sb_configuration_result_trial (result, 0)->is_lost);
  assert_false (sb_configuration_result_trial (result, 1)->is_lost);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (logs_are_found_by_name_and_content_below_one_folder),
    bench_test (log_of_the_same_name_and_another_content_is_not_taken),
    bench_test (folder_stays_while_one_of_its_logs_is_not_found),
    bench_test (log_that_is_where_it_was_stays_there),
    bench_test (changed_log_is_found_where_its_old_content_is),
    bench_test (log_of_which_only_the_name_is_known_is_found_when_one_file_has_it),
    bench_test (log_that_cannot_be_opened_is_lost_and_one_without_rows_is_not),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
