/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a log that changed since the session was saved, and of a copy among the repeats. The checksums are
 * those of the bytes the test writes. */
#include "bench_fixture.h"
#include "results_remarks.h"
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
add_some_repeats (BenchFixture *fixture, gsize n, const double ramp_ms[])
{
  const char *logs[8];
  for (gsize i = 0; i < n; i++) {
    StepLog step = STEP_LOG;
    step.ramp_ms = ramp_ms[i];
    g_autofree char *name = g_strdup_printf ("run-%" G_GSIZE_FORMAT ".csv", i + 1);
    logs[i] = write_step (fixture, name, step);
  }
  sb_bench_add_configuration (fixture->bench, "a", logs, n);
}

static void
add_repeats (BenchFixture *fixture, const double ramp_ms[8])
{
  add_some_repeats (fixture, 8, ramp_ms);
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

/* Torque of one of the ramps `ms` after the onset, by the formula that the logs are written with. */
static double
ramp_at (double ramp_ms, double ms)
{
  return 8 * fmin (1, fmax (0, ms - 2) / ramp_ms);
}

static double
mean_ramp_at (const double ramp_ms[6], double ms)
{
  double mean = 0;
  for (int i = 0; i < 6; i++)
    mean += ramp_at (ramp_ms[i], ms) / 6;
  return mean;
}

/* The last whole millisecond before twice the time in which the mean comes to 90 % of 8 N·m. */
static int
end_of_rise_ms (const double ramp_ms[6])
{
  int ms = 0;
  while (mean_ramp_at (ramp_ms, ms) < 0.9 * 8)
    ms++;
  return 2 * ms - 1;
}

/* Root mean square distance of ramp `k` from the mean of six, by the formula that the logs are written with: the torque
 * follows the command, which is the onset, after 2 ms. */
static double
distance_of_ramp (const double ramp_ms[6], int k, double end_ms)
{
  double squares = 0;
  int n = 0;
  for (; n <= end_ms; n++)
    squares += pow (ramp_at (ramp_ms[k], n) - mean_ramp_at (ramp_ms, n), 2);
  return sqrt (squares / n);
}

/* Six repeats, of which the third has 30 % less slope (20 ms / 0.7 = 28.6 ms): too few for a test, so it is pointed to,
 * with how far it is and how far the next, which is the first; it is not left out. With logs kept and without. */
static void
farthest_of_a_few_is_pointed_to (void **state)
{
  static const double ramp_ms[6] = { 20, 20.9, 28.6, 20.3, 21.2, 20.6 };
  BenchFixture *fixture = *state;
  add_some_repeats (fixture, 6, ramp_ms);
  for (int kept = 0; kept < 2; kept++) {
    fixture->cache = kept ? sb_cache_new () : NULL;
    fixture->analysis
        = sb_analysis_run (fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
    const SbConfigurationResult *result = sb_analysis_configuration (fixture->analysis, 0);
    int end_ms = end_of_rise_ms (ramp_ms);
    char words[3][160], digits[2][16];
    g_ascii_formatd (digits[0], sizeof digits[0], "%.2g", distance_of_ramp (ramp_ms, 2, end_ms));
    g_ascii_formatd (digits[1], sizeof digits[1], "%.2g", distance_of_ramp (ramp_ms, 0, end_ms));
    g_snprintf (words[0], sizeof words[0], "farthest from the mean curve of the 6 repeats: its torque is %s N·m off it",
                digits[0]);
    g_snprintf (words[1], sizeof words[1], "the next repeat's %s N·m; so few allow no test", digits[1]);
    assert_true (is_remarked (fixture, 2, words[0]));
    g_snprintf (words[2], sizeof words[2], "from 0 to %d ms after the onset", end_ms);
    assert_true (is_remarked (fixture, 2, words[1]));
    assert_true (is_remarked (fixture, 2, words[2]));
    assert_true (is_remarked (fixture, 2, "no reason to leave it out"));
    assert_int_equal (result->n_used, 6);
    for (guint t = 0; t < 6; t++)
      assert_true (t == 2 || !is_remarked (fixture, t, "farthest"));
    g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  }
}

/* Waves of up to 0.4 N·m on a plateau of 190 ms, and a rise that is 20 % less steep in one of five: over all the time
 * the farthest is 1.52 times as far off as the next, over the rise 4.0 times (by the formula, worked out apart). */
static void
wrong_rise_is_not_hidden_by_a_long_plateau (void **state)
{
  static const double plateau_nm[5] = { 0.4, -0.4, 0.2, -0.4, 0.2 };
  BenchFixture *fixture = *state;
  const char *logs[5];
  for (int i = 0; i < 5; i++) {
    g_autoptr (GString) text = g_string_new ("time_s,command_Nm,torque_Nm\n");
    for (int ms = 0; ms <= 250; ms++) {
      double after = fmax (0, ms - 50), rise = ramp_at (i == 3 ? 25 : 20, after);
      double torque = rise + (after > 60 ? plateau_nm[i] * sin (2.3 * ms + 0.1 * ms * ms * (i + 1)) : 0);
      g_string_append_printf (text, "%.3f,%d,%.6f\n", ms / 1000.0, ms >= 50 ? 8 : 0, torque);
    }
    logs[i] = write_file (fixture, keep (fixture, g_strdup_printf ("run-%d.csv", i + 1)), text->str);
  }
  sb_bench_add_configuration (fixture->bench, "a", logs, 5);
  analyse (fixture);
  assert_true (is_remarked (fixture, 3, "farthest from the mean curve of the 5 repeats"));
}

/* One of them is always the farthest; of six that scatter evenly from 20 to 21.9 ms it is no more than 1.3 times as far
 * off as the next. Of three even one that is far off is only twice as far from the mean as the two others. With seven
 * repeats the tests decide. */
static void
farthest_that_is_not_plain_is_not_pointed_to (void **state)
{
  static const struct {
    gsize n;
    double ramp_ms[7];
  } cases[] = { { 6, { 20.8, 20, 21.6, 20.5, 21.9, 20.3 } },
                { 3, { 20, 30, 20.1 } },
                { 7, { 20, 20.9, 28.6, 20.3, 21.2, 20.6, 20.1 } } };
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    sb_bench_unref (fixture->bench);
    fixture->bench = sb_bench_new ();
    add_some_repeats (fixture, cases[i].n, cases[i].ramp_ms);
    analyse (fixture);
    for (guint t = 0; t < cases[i].n; t++)
      assert_false (is_remarked (fixture, t, "farthest"));
    g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  }
}

/* A log that is left out, or cannot be read, is none of the few: seven with one of either are six. */
static void
logs_that_are_not_used_are_none_of_the_few (void **state)
{
  BenchFixture *fixture = *state;
  add_some_repeats (fixture, 8, (const double[]){ 20, 20.9, 28.6, 20.3, 21.2, 20.6, 60, 20 });
  sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 6)->included = FALSE;
  write_file (fixture, "run-8.csv", "nothing to be read\n");
  analyse (fixture);
  assert_int_equal (sb_analysis_configuration (fixture->analysis, 0)->n_used, 6);
  assert_true (is_remarked (fixture, 2, "farthest from the mean curve of the 6 repeats"));
}

/* Logs of 1 and of 2 ms between samples, and of two slopes: whoever means them does not mean one test. */
static void
repeats_of_different_tests_are_told_once (void **state)
{
  BenchFixture *fixture = *state;
  StepLog coarse = STEP_LOG, other = STEP_LOG;
  coarse.interval_ms = 2;
  other.head = "# setting slope: 3 N·m/ms\n";
  StepLog one = STEP_LOG;
  one.head = "# setting slope: 2 N·m/ms\n";
  const char *logs[] = { write_step (fixture, "a.csv", one), write_step (fixture, "b.csv", coarse),
                         write_step (fixture, "c.csv", other) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 3);
  analyse (fixture);
  assert_true (
      is_remarked (fixture, 0,
                   "not of one test (sample rate: 500 and 1000 Hz; slope: 2 N·m/ms and 3 N·m/ms; not stated "
                   "in 1 of 3 trials), and a mean over them describes none of them. Put those that differ into a "
                   "configuration of their own"));
  assert_false (is_remarked (fixture, 1, "not of one test"));
}

/* Each with two firmwares of its own: four are told, and of the others the first one's versions. No stretch is made of
 * versions: there is no firmware between 1.1 and 1.2. */
static void
results_name_the_versions_that_were_mixed (void **state)
{
  BenchFixture *fixture = *state;
  for (int c = 1; c <= 6; c++) {
    const char *logs[2];
    for (int i = 0; i < 2; i++) {
      StepLog step = STEP_LOG;
      step.ramp_ms = 20 + i;
      step.head = keep (fixture, g_strdup_printf ("# firmware: %d.%d\n", c, i + 1));
      logs[i] = write_step (fixture, keep (fixture, g_strdup_printf ("c%d/run-%d.csv", c, i + 1)), step);
    }
    g_autofree char *name = g_strdup_printf ("Set %d", c);
    sb_bench_add_configuration (fixture->bench, name, logs, 2);
  }
  analyse (fixture);
  g_autoptr (GPtrArray) lines = sb_results_remarks (fixture->analysis);
  assert_int_equal (lines->len, 5);
  for (guint i = 0; i < 4; i++) {
    g_autofree char *begins = g_strdup_printf ("Set %u, run-1.csv: the repeats", i + 1);
    g_autofree char *firmwares = g_strdup_printf ("(firmware: %u.1 and %u.2)", i + 1, i + 1);
    assert_true (g_str_has_prefix (g_ptr_array_index (lines, i), begins));
    assert_non_null (strstr (g_ptr_array_index (lines, i), firmwares));
  }
  assert_true (
      g_str_has_prefix (g_ptr_array_index (lines, 4), "2 more logs (Set 5, run-1.csv; Set 6, run-1.csv), each with "
                                                      "figures of its own, of which the first has these: "));
  assert_non_null (strstr (g_ptr_array_index (lines, 4), "(firmware: 5.1 and 5.2)"));
}

/* Rises of 20 ms up and of 26 down, by 0.3 ms off: 6 ms are more than forty standard errors of 0.13. Rises as long
 * either way are repeats of one another. */
static void
drive_that_differs_between_the_ways_is_told (void **state)
{
  for (int differs = 0; differs < 2; differs++) {
    BenchFixture *fixture = *state;
    const char *logs[6];
    for (int i = 0; i < 6; i++) {
      StepLog step = STEP_LOG;
      step.down = i >= 3;
      step.ramp_ms = 20 + 0.3 * (i % 3) + (step.down && differs ? 6 : 0);
      g_autofree char *name = g_strdup_printf ("way-%d-%d.csv", differs, i);
      logs[i] = write_step (fixture, name, step);
    }
    sb_bench_add_configuration (fixture->bench, "a", logs, 6);
  }
  BenchFixture *fixture = *state;
  analyse (fixture);
  const GPtrArray *alike = remarks_of (fixture->analysis, 0, 3), *unlike = remarks_of (fixture->analysis, 1, 3);
  for (guint i = 0; alike != NULL && i < alike->len; i++)
    assert_null (strstr (g_ptr_array_index (alike, i), "step down"));
  assert_non_null (unlike);
  assert_non_null (
      strstr (g_ptr_array_index (unlike, 0), "the 3 repeats that step down and the 3 that step up differ in "));
  assert_non_null (strstr (g_ptr_array_index (unlike, 0), "mean torque slope"));
  const SbMeasureComparison *measure = &fixture->analysis->comparison->measure[SB_MEASURE_MEAN_TORQUE_SLOPE];
  assert_true (measure->of_two_ways && measure->doubted);
  assert_non_null (
      strstr (measure->doubt, "the repeats of the other configuration that step up and those that step down"));
  assert_int_equal (measure->settle.n_equal, 0);
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

/* Of seven that all fall 2 in 7! = 5040 orders are as far: p = 0.0004, by Kendall's distribution. */
static void
drift_over_seven_repeats_is_told (void **state)
{
  BenchFixture *fixture = *state;
  add_some_repeats (fixture, 7, (const double[]){ 20, 20.3, 20.5, 20.8, 21.1, 21.3, 21.6 });
  analyse (fixture);
  assert_true (is_remarked (fixture, 6, "mean torque slope falls by"));
  assert_true (is_remarked (fixture, 6, "(p = 0.0004)"));
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
    bench_test (repeats_of_different_tests_are_told_once),
    bench_test (results_name_the_versions_that_were_mixed),
    bench_test (drive_that_differs_between_the_ways_is_told),
    bench_test (copy_among_the_repeats_is_told_with_the_name_of_the_first),
    bench_test (copy_that_is_left_out_gives_no_remark),
    bench_test (log_as_it_was_saved_gives_no_remark),
    bench_test (log_changed_since_it_was_saved_is_told),
    bench_test (checksum_outlives_a_save_without_results),
    bench_test (repeat_that_stands_apart_is_told),
    bench_test (farthest_of_a_few_is_pointed_to),
    bench_test (wrong_rise_is_not_hidden_by_a_long_plateau),
    bench_test (farthest_that_is_not_plain_is_not_pointed_to),
    bench_test (logs_that_are_not_used_are_none_of_the_few),
    bench_test (log_much_shorter_than_the_others_is_told_with_the_way_out),
    bench_test (short_log_under_a_union_says_where_fewer_repeats_carry_the_mean),
    bench_test (drift_over_the_repeats_is_told_at_the_last),
    bench_test (drift_over_seven_repeats_is_told),
    bench_test (scatter_of_the_slope_gives_no_remark_on_it),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
