/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a log that changed since the session was saved, and of a copy among the repeats. The checksums are
 * those of the bytes the test writes. */
#include "bench_fixture.h"
#include "session.h"

static const GPtrArray *
remarks_of (const SbAnalysis *analysis, guint configuration, guint trial)
{
  return sb_configuration_result_trial (sb_analysis_configuration (analysis, configuration), trial)->remarks;
}

static void
analyse (BenchFixture *fixture)
{
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  assert_non_null (fixture->analysis);
}

static void
different_repeats_give_no_remark (void **state)
{
  BenchFixture *fixture = *state;
  StepLog slower = STEP_LOG;
  slower.ramp_ms = 25;
  const char *logs[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", slower) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  analyse (fixture);
  assert_null (remarks_of (fixture->analysis, 0, 0));
  assert_null (remarks_of (fixture->analysis, 0, 1));
}

static void
copy_among_the_repeats_is_told_with_the_name_of_the_first (void **state)
{
  BenchFixture *fixture = *state;
  const char *logs[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", STEP_LOG) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  analyse (fixture);
  assert_null (remarks_of (fixture->analysis, 0, 0));
  const GPtrArray *remarks = remarks_of (fixture->analysis, 0, 1);
  assert_non_null (remarks);
  assert_non_null (strstr (g_ptr_array_index (remarks, 0), "the same as a.csv"));
}

static void
copy_that_is_left_out_gives_no_remark (void **state)
{
  BenchFixture *fixture = *state;
  const char *logs[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", STEP_LOG) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 1)->included = FALSE;
  analyse (fixture);
  assert_null (remarks_of (fixture->analysis, 0, 1));
}

/* Saves a session over a.csv and loads it into the fixture's bench. */
static void
save_and_load (BenchFixture *fixture)
{
  const char *log = path_in (fixture, "a.csv"), *session = path_in (fixture, "work.slewbench");
  sb_bench_add_configuration (fixture->bench, "a", &log, 1);
  fixture->second = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_true (sb_session_save (fixture->bench, fixture->second, session, &fixture->error));
  sb_bench_unref (fixture->bench);
  fixture->bench = sb_session_load (session, &fixture->error);
  assert_non_null (fixture->bench);
}

static void
log_as_it_was_saved_gives_no_remark (void **state)
{
  BenchFixture *fixture = *state;
  write_step (fixture, "a.csv", STEP_LOG);
  save_and_load (fixture);
  analyse (fixture);
  assert_null (remarks_of (fixture->analysis, 0, 0));
}

static void
log_changed_since_it_was_saved_is_told (void **state)
{
  BenchFixture *fixture = *state;
  write_step (fixture, "a.csv", STEP_LOG);
  save_and_load (fixture);
  StepLog slower = STEP_LOG;
  slower.ramp_ms = 21;
  write_step (fixture, "a.csv", slower);
  analyse (fixture);
  const GPtrArray *remarks = remarks_of (fixture->analysis, 0, 0);
  assert_non_null (remarks);
  assert_non_null (strstr (g_ptr_array_index (remarks, 0), "not the log that the session was saved with"));
}

/* Saving before the logs are read must not lose what was known of them. */
static void
checksum_outlives_a_save_without_results (void **state)
{
  BenchFixture *fixture = *state;
  write_step (fixture, "a.csv", STEP_LOG);
  save_and_load (fixture);
  g_autofree char *before = g_strdup (sb_configuration_entry (sb_bench_configuration (fixture->bench, 0), 0)->sha256);
  const char *again = path_in (fixture, "again.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, again, &fixture->error));
  fixture->other_bench = sb_session_load (again, &fixture->error);
  assert_non_null (fixture->other_bench);
  assert_string_equal (sb_configuration_entry (sb_bench_configuration (fixture->other_bench, 0), 0)->sha256,
                       keep (fixture, g_steal_pointer (&before)));
}

static void
add_repeats (BenchFixture *fixture, const double ramp_ms[8])
{
  const char *logs[8];
  for (int i = 0; i < 8; i++) {
    StepLog step = STEP_LOG;
    step.ramp_ms = ramp_ms[i];
    g_autofree char *name = g_strdup_printf ("run-%d.csv", i + 1);
    logs[i] = write_step (fixture, name, step);
  }
  sb_bench_add_configuration (fixture->bench, "a", logs, 8);
}

static gboolean
is_remarked (const BenchFixture *fixture, guint trial, const char *words)
{
  const GPtrArray *remarks = remarks_of (fixture->analysis, 0, trial);
  for (guint i = 0; remarks != NULL && i < remarks->len; i++)
    if (strstr (g_ptr_array_index (remarks, i), words) != NULL)
      return TRUE;
  return FALSE;
}

/* By algebra: of eight values seven of which are within 0.1 % and one is half as large again, the statistic is close to
 * 7 / sqrt (8) = 2.47, which is the largest there can be and above every critical value. */
static void
repeat_that_stands_apart_is_told (void **state)
{
  BenchFixture *fixture = *state;
  add_repeats (fixture, (const double[]){ 20, 20.01, 20.005, 20.015, 30, 20.002, 20.012, 20.007 });
  analyse (fixture);
  assert_true (is_remarked (fixture, 4, "stands apart from the other repeats in"));
  assert_true (is_remarked (fixture, 4, "mean torque slope"));
  for (guint t = 0; t < 8; t++)
    if (t != 4)
      assert_false (is_remarked (fixture, t, "stands apart"));
}

/* The command jumps at 50 ms: logs of 250 ms go on for 200 ms after it, one of 120 ms for 70. */
static void
log_much_shorter_than_the_others_is_told_with_the_way_out (void **state)
{
  BenchFixture *fixture = *state;
  StepLog shorter = STEP_LOG, slower = STEP_LOG;
  shorter.length_ms = 120;
  slower.ramp_ms = 21;
  const char *logs[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", shorter),
                         write_step (fixture, "c.csv", slower) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 3);
  fixture->bench->span = SB_SPAN_COMMON;
  analyse (fixture);
  assert_true (is_remarked (fixture, 1,
                            "1 of 3 logs is much shorter than the others: b.csv (70 ms of 200 ms after the "
                            "onset). The mean curve is over what all repeats cover, and ends at 70 ms. "
                            "Leave out what is too short, or log every repeat for as long"));
  assert_false (is_remarked (fixture, 0, "shorter"));
  assert_false (is_remarked (fixture, 2, "shorter"));
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 1);
  assert_null (strstr (g_ptr_array_index (trial->remark_facts, 0), "Leave out"));
  assert_non_null (strstr (g_ptr_array_index (trial->remark_facts, 0), "ends at 70 ms"));
}

static void
short_log_under_a_union_says_where_fewer_repeats_carry_the_mean (void **state)
{
  BenchFixture *fixture = *state;
  StepLog shorter = STEP_LOG;
  shorter.length_ms = 120;
  const char *logs[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", shorter) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  fixture->bench->span = SB_SPAN_UNION;
  analyse (fixture);
  assert_true (
      is_remarked (fixture, 1, "Fewer repeats carry the mean curve from 70 ms on. Leave out what is too short"));
}

/* Ramps that grow from repeat to repeat: all 28 pairs fall, z = 13.5 / sqrt (8 * 7 * 21 / 72) = 3.34, p = 0.0008. */
static void
drift_over_the_repeats_is_told_at_the_last (void **state)
{
  BenchFixture *fixture = *state;
  add_repeats (fixture, (const double[]){ 20, 20.3, 20.5, 20.8, 21.1, 21.3, 21.6, 21.9 });
  analyse (fixture);
  assert_true (is_remarked (fixture, 7, "from the first repeat to this one"));
  assert_true (is_remarked (fixture, 7, "mean torque slope falls by"));
  assert_false (is_remarked (fixture, 0, "from the first repeat"));
}

/* The same ramps in no order of time: of 28 pairs 12 fall, and the farthest is about 1.5 standard deviations off. */
static void
scatter_of_the_slope_gives_no_remark_on_it (void **state)
{
  BenchFixture *fixture = *state;
  add_repeats (fixture, (const double[]){ 20.8, 20, 21.6, 20.5, 21.9, 20.3, 21.3, 21.1 });
  analyse (fixture);
  for (guint t = 0; t < 8; t++)
    assert_false (is_remarked (fixture, t, "mean torque slope"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (different_repeats_give_no_remark),
    bench_test (copy_among_the_repeats_is_told_with_the_name_of_the_first),
    bench_test (copy_that_is_left_out_gives_no_remark),
    bench_test (log_as_it_was_saved_gives_no_remark),
    bench_test (log_changed_since_it_was_saved_is_told),
    bench_test (checksum_outlives_a_save_without_results),
    bench_test (repeat_that_stands_apart_is_told),
    bench_test (log_much_shorter_than_the_others_is_told_with_the_way_out),
    bench_test (short_log_under_a_union_says_where_fewer_repeats_carry_the_mean),
    bench_test (drift_over_the_repeats_is_told_at_the_last),
    bench_test (scatter_of_the_slope_gives_no_remark_on_it),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
