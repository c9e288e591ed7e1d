/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which logs at hand a proof is checked against, and what is said of those that are missing, moved or changed. */
#include "verify_fixture.h"

static void
missing_log_leaves_the_other_configuration_checked (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  assert_int_equal (g_unlink (path_in (fixture->bench, "logs/slow/run-3.csv")), 0);
  const SbVerification *v = verify (fixture, text, "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_int_equal (v->n_missing, 1);
  assert_int_equal (v->n_to_the_bit, SB_N_MEASURES);    /* of Fast */
  assert_int_equal (v->n_unchecked, 2 * SB_N_MEASURES); /* of Slow, and of the comparison */
  assert_words (fixture->words->outcome, "Not decided: logs are missing.");
  assert_words (g_ptr_array_index (fixture->words->details, 0), "slow/run-3.csv: not found");
}

static void
logs_are_found_deep_in_the_folder_and_under_other_names (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  assert_int_equal (g_mkdir_with_parents (path_in (fixture->bench, "store/2026/a/slow"), 0755), 0);
  assert_int_equal (g_rename (path_in (fixture->bench, "logs/slow/run-1.csv"),
                              path_in (fixture->bench, "store/2026/a/slow/run-1.csv")),
                    0);
  assert_int_equal (
      g_rename (path_in (fixture->bench, "logs/slow/run-2.csv"), path_in (fixture->bench, "store/2026/a/renamed.txt")),
      0);
  const SbVerification *v = verify (fixture, text, "logs", "store");
  assert_true (sb_verification_is_same (v));
  assert_false (g_array_index (v->logs, SbVerifiedLog, 0).renamed);
  assert_true (g_array_index (v->logs, SbVerifiedLog, 1).renamed);
  assert_words (g_ptr_array_index (fixture->words->details, 0), "slow/run-2.csv: the same, now called renamed.txt.");
}

/* The log is edited where it stands, and a copy from before lies beside it: the copy serves, and that is told. */
static void
a_copy_that_serves_for_an_edited_log_is_told (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  g_autofree char *bytes = NULL;
  gsize n_bytes;
  assert_true (g_file_get_contents (path_in (fixture->bench, "logs/slow/run-1.csv"), &bytes, &n_bytes, NULL));
  assert_true (g_file_set_contents (path_in (fixture->bench, "logs/slow/before.csv"), bytes, (gssize) n_bytes, NULL));
  bytes[n_bytes - 2] = bytes[n_bytes - 2] == '1' ? '2' : '1';
  assert_true (g_file_set_contents (path_in (fixture->bench, "logs/slow/run-1.csv"), bytes, (gssize) n_bytes, NULL));
  const SbVerification *v = verify (fixture, text, "logs", "logs");
  assert_true (sb_verification_is_same (v));
  const char *detail = g_ptr_array_index (fixture->words->details, 0);
  assert_words (detail, "slow/run-1.csv: the file of that name, ");
  assert_words (detail,
                "logs/slow/run-1.csv, has other content than the log used; a file with the log's bytes was found "
                "at ");
  assert_words (detail, "logs/slow/before.csv and used.");
}

/* fast/run-1.csv has the name of the missing slow/run-1.csv, but it is another log of the proof. */
static void
log_of_another_configuration_is_not_taken_for_a_changed_one (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  assert_int_equal (g_unlink (path_in (fixture->bench, "logs/slow/run-1.csv")), 0);
  const SbVerification *v = verify (fixture, text, "elsewhere", "logs");
  assert_int_equal (g_array_index (v->logs, SbVerifiedLog, 0).state, SB_VERIFIED_MISSING);
  assert_int_equal (v->n_same, 5);
}

static void
assert_all_the_same (ProofFixture *fixture, const char *folder)
{
  const char *report = report_of (fixture, fixture->bench->analysis);
  const SbVerification *v
      = verify (fixture, keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL)), "elsewhere", folder);
  if (!sb_verification_is_same (v))
    fail_msg ("%s", fixture->words->outcome);
  assert_string_equal (report_of (fixture, v->analysis), report);
}

/* A copy of a log serves as well as the log: in a folder beside it, in another configuration of the bench, and when of
 * two copies in one configuration one file is left, under a third name. */
static void
copies_of_logs_never_make_a_difference (void **state)
{
  ProofFixture *fixture = *state;
  BenchFixture *bench = fixture->bench;
  make_logs (fixture, "logs");
  make_logs (fixture, "other/kept/logs");
  StepLog like_first = STEP_LOG;
  like_first.ramp_ms = 20; /* as slow/run-1 of make_logs() */
  write_step (bench, "logs/slow/run-1b.csv", like_first);
  write_step (bench, "logs/twin/run-1.csv", like_first);
  const char *slow[] = { path_in (bench, "logs/slow/run-1.csv"), path_in (bench, "logs/slow/run-1b.csv"),
                         path_in (bench, "logs/slow/run-2.csv") };
  const char *twin[] = { path_in (bench, "logs/twin/run-1.csv"), path_in (bench, "logs/slow/run-2.csv") };
  sb_bench_add_configuration (bench->bench, "Slow", slow, 3);
  sb_bench_add_configuration (bench->bench, "Twin", twin, 2);
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_all_the_same (fixture, "logs");
  assert_all_the_same (fixture, "other"); /* one file for three logs */
  assert_all_the_same (fixture, ".");
  assert_int_equal (
      g_rename (path_in (bench, "other/kept/logs/slow/run-1.csv"), path_in (bench, "other/kept/renamed.txt")), 0);
  assert_all_the_same (fixture, "other");
}

/* A log that cannot be read is named in the report with the reason; so it is when the report is made again. */
static void
log_that_could_not_be_read_makes_no_difference (void **state)
{
  ProofFixture *fixture = *state;
  BenchFixture *bench = fixture->bench;
  make_logs (fixture, "logs");
  assert_true (g_file_set_contents (path_in (bench, "logs/slow/letter.csv"), "Dear all,\n", -1, NULL));
  const char *slow[] = { path_in (bench, "logs/slow/run-1.csv"), path_in (bench, "logs/slow/letter.csv") };
  sb_bench_add_configuration (bench->bench, "Slow", slow, 2);
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_all_the_same (fixture, "logs");
  assert_int_equal (fixture->verification->unread->len, 0);
  assert_int_equal (g_unlink (slow[1]), 0);
  const SbVerification *v = verify (fixture, keep (bench, sb_proof_text (bench->analysis, NULL)), "logs/slow", NULL);
  assert_true (sb_verification_is_same (v));
  assert_string_equal (g_ptr_array_index (v->unread, 0), "letter.csv");
}

/* It was left out of the figures that are printed, and is left out of those they are held against. */
static void
log_that_can_be_read_now_is_told_and_left_out (void **state)
{
  ProofFixture *fixture = *state;
  BenchFixture *bench = fixture->bench;
  make_logs (fixture, "logs");
  const char *slow[] = { path_in (bench, "logs/slow/run-1.csv"), path_in (bench, "logs/slow/run-2.csv"),
                         path_in (bench, "logs/slow/run-3.csv") };
  g_autofree char *whole = NULL;
  gsize n_bytes;
  assert_true (g_file_get_contents (slow[1], &whole, &n_bytes, NULL));
  assert_true (g_file_set_contents (slow[2], "Dear all,\n", -1, NULL));
  sb_bench_add_configuration (bench->bench, "Slow", slow, 3);
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  g_autofree char *other = g_strconcat (whole, "\n", NULL);
  assert_true (g_file_set_contents (slow[2], other, -1, NULL));
  const SbVerification *v = verify (fixture, keep (bench, sb_proof_text (bench->analysis, NULL)), "logs/slow", NULL);
  assert_int_equal (v->readable->len, 1);
  assert_int_equal (v->n_differ, 0);
  assert_true (sb_verification_is_same (v));
  assert_words (fixture->words->logs, "could not be read when the proof was made and can be now");
}

/* Its name is that of another log of the proof: when it is gone, that one is not taken in its place. */
static void
log_of_the_proof_does_not_stand_for_an_unreadable_one (void **state)
{
  ProofFixture *fixture = *state;
  BenchFixture *bench = fixture->bench;
  make_logs (fixture, "logs");
  assert_int_equal (g_mkdir_with_parents (path_in (bench, "logs/text"), 0755), 0);
  assert_true (g_file_set_contents (path_in (bench, "logs/text/run-2.csv"), "Dear all,\n", -1, NULL));
  const char *slow[] = { path_in (bench, "logs/slow/run-1.csv"), path_in (bench, "logs/slow/run-2.csv") };
  const char *text[] = { path_in (bench, "logs/text/run-2.csv") };
  sb_bench_add_configuration (bench->bench, "Slow", slow, 2);
  sb_bench_add_configuration (bench->bench, "Text", text, 1);
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_int_equal (g_unlink (text[0]), 0);
  const SbVerification *v = verify (fixture, keep (bench, sb_proof_text (bench->analysis, NULL)), "logs", NULL);
  assert_true (sb_verification_is_same (v));
  assert_int_equal (v->unread->len, 1);
}

/* A session that was saved with another log says so in its report, and again when that is checked. */
static void
log_other_than_the_sessions_is_remarked_on_again (void **state)
{
  ProofFixture *fixture = *state;
  make_logs (fixture, "logs");
  analyse_logs (fixture, "logs");
  SbBench *edited = edit_bench (fixture);
  sb_configuration_entry (sb_bench_edit_configuration (edited, 0), 1)->sha256
      = g_ref_string_new ("abababababababababababababababababababababababababababababababab");
  analyse_again (fixture);
  assert_all_the_same (fixture, "logs");
  assert_words (report_of (fixture, fixture->verification->analysis), "not the log that the session was saved with");
}

/* Every bench has a run-1.csv: that of a stranger, longer and in a folder without any of the logs, is no changed log.
 */
static void
log_of_another_bench_is_not_taken_for_a_changed_one (void **state)
{
  ProofFixture *fixture = *state;
  BenchFixture *bench = fixture->bench;
  make_logs (fixture, "logs");
  const char *paths[] = { path_in (bench, "logs/slow/run-1.csv"), path_in (bench, "logs/slow/run-2.csv") };
  sb_bench_add_configuration (bench->bench, "Slow", paths, 2);
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  write_step (bench, "store/other/run-1.csv", (StepLog){ .interval_ms = 1, .ramp_ms = 40, .length_ms = 2500 });
  const SbVerification *v = verify (fixture, keep (bench, sb_proof_text (bench->analysis, NULL)), "elsewhere", "store");
  assert_int_equal (v->n_changed, 0);
  assert_int_equal (v->n_missing, 2);
  assert_words (fixture->words->outcome, "Not decided: no log was found.");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    proof_test (missing_log_leaves_the_other_configuration_checked),
    proof_test (logs_are_found_deep_in_the_folder_and_under_other_names),
    proof_test (a_copy_that_serves_for_an_edited_log_is_told),
    proof_test (log_of_another_configuration_is_not_taken_for_a_changed_one),
    proof_test (copies_of_logs_never_make_a_difference),
    proof_test (log_that_could_not_be_read_makes_no_difference),
    proof_test (log_that_can_be_read_now_is_told_and_left_out),
    proof_test (log_of_the_proof_does_not_stand_for_an_unreadable_one),
    proof_test (log_other_than_the_sessions_is_remarked_on_again),
    proof_test (log_of_another_bench_is_not_taken_for_a_changed_one),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
