/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_fixture.h"
#include "results.h"

/* Two configurations of steps that differ a little from repeat to repeat, so that nothing is equal by chance. */
static void
fill_bench (BenchFixture *fixture)
{
  for (int c = 0; c < 2; c++) {
    const char *paths[5];
    for (int i = 0; i < 5; i++) {
      StepLog step = STEP_LOG;
      step.ramp_ms = (c == 0 ? 20 : 30) + 0.1 * i;
      step.length_ms = 250 + 3 * i;
      step.head = c == 0 ? "# setting torque slope: 0.4 N·m/ms\n# setting damping: 0 %\n"
                         : "# setting torque slope: 0.27 N·m/ms\n# setting damping: 0 %\n";
      paths[i] = write_step (fixture, keep (fixture, g_strdup_printf ("%c/run-%d.csv", 'a' + c, i + 1)), step);
    }
    sb_bench_add_configuration (fixture->bench, c == 0 ? "steep" : "flat", paths, 5);
  }
}

static SbAnalysis *
run (BenchFixture *fixture, SbBench *bench, SbCache *cache, SbAnalysisFlags flags)
{
  SbAnalysis *analysis = sb_analysis_run (bench, cache, flags, NULL, NULL, NULL, &fixture->error);
  if (analysis == NULL)
    fail_msg ("%s", fixture->error->message);
  return analysis;
}

/* Results as text; the analysis is let go. */
static const char *
json_of (BenchFixture *fixture, SbBench *bench, SbCache *cache, SbAnalysisFlags flags)
{
  g_autoptr (SbAnalysis) analysis = run (fixture, bench, cache, flags);
  return keep (fixture, sb_results_json (analysis));
}

static void
results_are_the_same_streaming_kept_and_cached (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  const char *streamed = json_of (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  assert_string_equal (json_of (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT), streamed);
  assert_string_equal (json_of (fixture, fixture->bench, NULL, SB_ANALYSIS_KEEP_TRIALS), streamed);
  assert_string_equal (json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT), streamed);
  assert_string_equal (json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT), streamed);
  assert_string_equal (json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_CACHED_ONLY), streamed);
}

/* The workers ask GLib how many processors there are; in this program the test answers. */
static guint n_processors = 2, n_times_asked;

guint
g_get_num_processors (void)
{
  n_times_asked++;
  return n_processors;
}

static void
results_do_not_depend_on_the_number_of_threads (void **state)
{
  static const guint numbers[] = { 1, 2, 3, 16 };
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  const char *first = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++) {
    n_processors = numbers[i];
    n_times_asked = 0;
    const char *json = json_of (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
    assert_int_not_equal (n_times_asked, 0);
    first = first != NULL ? first : json;
    assert_string_equal (json, first);
  }
}

static void
toggled_trial_gives_what_a_fresh_reading_gives (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  const char *before = json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT);
  SbBench *edited = fixture->other_bench = sb_bench_edit (fixture->bench);
  sb_configuration_entry (sb_bench_edit_configuration (edited, 1), 2)->included = FALSE;
  const char *without = json_of (fixture, edited, fixture->cache, SB_ANALYSIS_DEFAULT);
  assert_string_equal (without, json_of (fixture, edited, NULL, SB_ANALYSIS_DEFAULT));
  assert_string_not_equal (without, before);
  assert_string_equal (json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT), before);
}

static void
changed_choices_give_what_a_fresh_reading_gives (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  const char *before = json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT);
  SbBench *edited = fixture->other_bench = sb_bench_edit (fixture->bench);
  /* One by one: the cache must see each of them. */
  SbTrialChoices *choices = &sb_configuration_entry (sb_bench_edit_configuration (edited, 0), 0)->choices;
  for (int i = 0; i < 3; i++) {
    choices->onset_s = i == 0 ? 0.0512 : choices->onset_s;
    choices->active_end_s = i == 1 ? 0.2 : choices->active_end_s;
    edited->measure.slope_window_s = i == 2 ? 0.009 : 0;
    const char *changed = json_of (fixture, edited, fixture->cache, SB_ANALYSIS_DEFAULT);
    assert_string_equal (changed, json_of (fixture, edited, NULL, SB_ANALYSIS_DEFAULT));
    assert_string_not_equal (changed, before);
    before = changed;
  }
}

static void
excluded_trial_is_measured_but_not_averaged (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 0);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("rim touched");
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  const SbConfigurationResult *steep = sb_analysis_configuration (fixture->analysis, 0);
  assert_int_equal (steep->n_used, 4);
  assert_int_equal (steep->ensemble->n_trials, 4);
  const SbTrialResult *trial = sb_configuration_result_trial (steep, 0);
  assert_false (trial->included);
  assert_string_equal (trial->exclusion_reason, "rim touched");
  assert_non_null (trial->measures);
  assert_null (trial->failure);
  assert_int_equal (fixture->analysis->n_failed, 0);
}

static void
grid_is_as_coarse_as_the_coarsest_trial_wherever_it_stands (void **state)
{
  /* 0.5, 1, 2 ms in every order; twice, so that a coarser trial also comes after a second pass has been asked for. */
  static const int orders[][3] = { { 0, 1, 2 }, { 2, 1, 0 }, { 1, 2, 0 }, { 0, 2, 1 } };
  static const double intervals_ms[] = { 0.5, 1, 2 };
  BenchFixture *fixture = *state;
  const char *paths[3];
  for (int i = 0; i < 3; i++) {
    StepLog step = STEP_LOG;
    step.interval_ms = intervals_ms[i];
    paths[i] = write_step (fixture, keep (fixture, g_strdup_printf ("rate-%d.csv", i)), step);
  }
  for (gsize o = 0; o < G_N_ELEMENTS (orders); o++) {
    const char *ordered[3] = { paths[orders[o][0]], paths[orders[o][1]], paths[orders[o][2]] };
    sb_bench_add_configuration (fixture->bench, "mixed", ordered, 3);
  }
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  for (guint o = 0; o < G_N_ELEMENTS (orders); o++) {
    const SbEnsemble *ensemble = sb_analysis_configuration (fixture->analysis, o)->ensemble;
    assert_close (ensemble->grid_step_s, 0.002, 0);
    assert_int_equal (ensemble->n_trials, 3);
    /* All three logs hold the same straight lines with their corners on the grid: no spread at all. */
    const SbMeanCurve *torque = ensemble->curve[SB_CHANNEL_TORQUE];
    assert_non_null (torque);
    for (gsize k = 0; k < ensemble->n_points; k++) {
      double tau_s = (double) (ensemble->first + (gint64) k) * 0.002;
      assert_close (torque->mean[k], 8 * CLAMP ((tau_s - 0.002) / 0.02, 0, 1), 1e-7);
      assert_close (torque->sd[k], 0, 1e-7);
    }
  }
}

static void
coarser_trial_that_is_excluded_leaves_the_grid_fine (void **state)
{
  BenchFixture *fixture = *state;
  StepLog coarse = STEP_LOG;
  coarse.interval_ms = 2;
  const char *paths[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", coarse) };
  sb_bench_add_configuration (fixture->bench, "mixed", paths, 2);
  sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 1)->included = FALSE;
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  assert_close (sb_analysis_configuration (fixture->analysis, 0)->ensemble->grid_step_s, 0.001, 0);
}

static void
logs_that_fail_are_results_that_say_why (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { path_in (fixture, "missing.csv"), write_step (fixture, "good.csv", STEP_LOG),
                          write_file (fixture, "words.csv", "a,b\nx,y\n"),
                          write_file (fixture, "flat.csv",
                                      "time_s,torque_Nm\n0,1\n1,1\n2,1\n3,1\n4,1\n5,1\n6,1\n7,"
                                      "1\n8,1\n") };
  sb_bench_add_configuration (fixture->bench, "mixed", paths, 4);
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  const SbConfigurationResult *mixed = sb_analysis_configuration (fixture->analysis, 0);
  assert_int_equal (fixture->analysis->n_failed, 3);
  assert_int_equal (mixed->n_used, 1);
  static const char *const names[] = { "missing.csv", NULL, "words.csv", "flat.csv" };
  for (guint t = 0; t < 4; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (mixed, t);
    if (names[t] == NULL) {
      assert_null (trial->failure);
      continue;
    }
    assert_null (trial->facts);
    assert_non_null (trial->failure);
    assert_non_null (strstr (trial->failure, names[t]));
  }
}

static void
configuration_of_nothing_usable_has_no_summary (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "missing.csv");
  sb_bench_add_configuration (fixture->bench, "gone", &path, 1);
  sb_bench_add_configuration (fixture->bench, "empty", NULL, 0);
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  for (guint c = 0; c < 2; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (fixture->analysis, c);
    assert_int_equal (configuration->n_used, 0);
    assert_null (configuration->summary);
    assert_null (configuration->ensemble);
  }
  assert_null (fixture->analysis->comparison);
  keep (fixture, sb_results_json (fixture->analysis));
  keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_non_null (strstr (keep (fixture, sb_results_table_text (fixture->analysis)), "usable"));
}

static void
cancelled_before_it_begins_gives_nothing (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  g_cancellable_cancel (fixture->cancellable);
  fixture->analysis
      = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, fixture->cancellable, &fixture->error);
  assert_null (fixture->analysis);
  assert_true (g_error_matches (fixture->error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

static void
cancel_after_third (gsize n_done, gsize n_total, gpointer user_data)
{
  BenchFixture *fixture = user_data;
  if (n_done == 3)
    g_cancellable_cancel (fixture->cancellable);
}

static void
cancelled_on_the_way_gives_nothing_and_a_later_run_everything (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  const char *whole = json_of (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  n_processors = 16; /* so that all logs are being read when the third is done */
  for (int i = 0; i < 20; i++) {
    g_cancellable_reset (fixture->cancellable);
    g_clear_error (&fixture->error);
    SbCache *cache = i % 2 == 0 ? NULL : fixture->cache;
    for (guint c = 0; c < 2; c++)
      for (guint t = 0; t < 5; t++)
        sb_cache_forget (fixture->cache, sb_configuration_entry (sb_bench_configuration (fixture->bench, c), t)->path);
    fixture->analysis = sb_analysis_run (fixture->bench, cache, SB_ANALYSIS_DEFAULT, cancel_after_third, fixture,
                                         fixture->cancellable, &fixture->error);
    assert_null (fixture->analysis);
    assert_true (g_error_matches (fixture->error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  }
  g_clear_error (&fixture->error);
  /* What was cut short is not taken for a log that failed. */
  assert_string_equal (json_of (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT), whole);
}

static void
cancel_at_once (gsize n_done, gsize n_total, gpointer user_data)
{
  BenchFixture *fixture = user_data;
  g_cancellable_cancel (fixture->cancellable);
}

static void
log_cut_short_by_cancelling_is_no_log_that_failed (void **state)
{
  /* While the short log is done, the long one - several blocks of the reader - is still being read. */
  BenchFixture *fixture = *state;
  StepLog longer = STEP_LOG;
  longer.interval_ms = 0.1;
  longer.length_ms = 10000;
  const char *paths[] = { write_step (fixture, "short.csv", STEP_LOG), write_step (fixture, "long.csv", longer) };
  sb_bench_add_configuration (fixture->bench, "both", paths, 2);
  fixture->cache = sb_cache_new ();
  n_processors = 2;
  fixture->analysis = sb_analysis_run (fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT, cancel_at_once, fixture,
                                       fixture->cancellable, &fixture->error);
  assert_null (fixture->analysis);
  g_clear_error (&fixture->error);
  fixture->second = run (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT);
  assert_int_equal (fixture->second->n_failed, 0);
  assert_int_equal (sb_analysis_configuration (fixture->second, 0)->n_used, 2);
}

static void
note_progress (gsize n_done, gsize n_total, gpointer user_data)
{
  BenchFixture *fixture = user_data;
  if (n_total == 10 && n_done >= 1 && n_done <= 10)
    g_atomic_int_add (&fixture->counter, 1 << n_done);
}

static void
progress_names_each_count_once (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, note_progress, fixture, NULL, NULL);
  assert_int_equal (g_atomic_int_get (&fixture->counter), 0x7fe); /* bits 1 to 10 */
}

static void
cached_only_passes_over_what_was_not_read (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  fixture->analysis = run (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_CACHED_ONLY);
  assert_int_equal (sb_analysis_configuration (fixture->analysis, 0)->n_used, 0);
  assert_int_equal (fixture->analysis->n_failed, 0); /* passed over is not failed */

  SbBench *first_only = fixture->other_bench = sb_bench_edit (fixture->bench);
  sb_bench_remove_configuration (first_only, 1);
  sb_analysis_unref (run (fixture, first_only, fixture->cache, SB_ANALYSIS_DEFAULT));
  fixture->second = run (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_CACHED_ONLY);
  assert_int_equal (sb_analysis_configuration (fixture->second, 0)->n_used, 5);
  assert_int_equal (sb_analysis_configuration (fixture->second, 1)->n_used, 0);
}

static void
changed_file_is_read_again_once_forgotten (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "a.csv", "not yet\n");
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
  fixture->cache = sb_cache_new ();
  fixture->analysis = run (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT);
  assert_int_equal (fixture->analysis->n_failed, 1);
  write_step (fixture, "a.csv", STEP_LOG);
  sb_cache_forget (fixture->cache, path);
  fixture->second = run (fixture, fixture->bench, fixture->cache, SB_ANALYSIS_DEFAULT);
  assert_int_equal (fixture->second->n_failed, 0);
}

/* When the first reading is done, a.csv becomes coarser than any log was. */
static void
swap_log_after_the_first_pass (gsize n_done, gsize n_total, gpointer user_data)
{
  BenchFixture *fixture = user_data;
  if (n_done < n_total || g_atomic_int_add (&fixture->counter, 1) > 0)
    return;
  StepLog coarsest = STEP_LOG;
  coarsest.interval_ms = 4;
  write_step (fixture, "a.csv", coarsest);
}

/* a.csv at 1 ms and b.csv at 2 ms ask for a second pass, which finds a.csv at 4 ms. */
static void
file_that_changes_between_passes_is_averaged_as_it_was_read_last (void **state)
{
  BenchFixture *fixture = *state;
  StepLog coarse = STEP_LOG;
  coarse.interval_ms = 2;
  const char *paths[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", coarse) };
  sb_bench_add_configuration (fixture->bench, "both", paths, 2);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_KEEP_TRIALS, swap_log_after_the_first_pass,
                                       fixture, NULL, NULL);
  const SbConfigurationResult *both = sb_analysis_configuration (fixture->analysis, 0);
  assert_int_equal (both->n_used, 2);
  assert_int_equal (both->ensemble->n_trials, 2);
  assert_close (both->ensemble->grid_step_s, 0.004, 0);
  const SbTrialResult *changed = sb_configuration_result_trial (both, 0);
  assert_close (changed->facts->sample_interval_s, 0.004, 0);
  assert_close (changed->trial->sample_interval_s, 0.004, 0);
}

static void
trials_are_kept_when_asked_for_only (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  fixture->second = run (fixture, fixture->bench, NULL, SB_ANALYSIS_KEEP_TRIALS);
  const SbConfigurationResult *lean = sb_analysis_configuration (fixture->analysis, 0);
  const SbConfigurationResult *kept = sb_analysis_configuration (fixture->second, 0);
  assert_null (sb_configuration_result_trial (lean, 0)->trial);
  assert_null (lean->ensemble->kept);
  assert_non_null (sb_configuration_result_trial (kept, 4)->trial);
  assert_int_equal (kept->ensemble->kept->len, 5);
}

static void
comparison_needs_two_sides (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->bench->other = 0;
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  assert_null (fixture->analysis->comparison);
  SbBench *edited = fixture->other_bench = sb_bench_edit (fixture->bench);
  edited->other = 1;
  fixture->second = run (fixture, edited, NULL, SB_ANALYSIS_DEFAULT);
  assert_non_null (fixture->second->comparison);
}

static void
settings_that_differ_are_named_and_no_others (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  assert_string_equal (keep (fixture, sb_analysis_differing_settings (fixture->analysis, 0)),
                       "torque slope 0.4 N·m/ms");
  assert_string_equal (keep (fixture, sb_analysis_differing_settings (fixture->analysis, 1)),
                       "torque slope 0.27 N·m/ms");
}

static void
data_checksum_is_that_of_the_used_logs_in_order (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 1)->included = FALSE;
  fixture->analysis = run (fixture, fixture->bench, NULL, SB_ANALYSIS_DEFAULT);
  g_autoptr (GString) sums = g_string_new (NULL);
  for (guint c = 0; c < 2; c++)
    for (guint t = 0; t < 5; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (sb_bench_configuration (fixture->bench, c), t);
      char *bytes = NULL;
      g_file_get_contents (entry->path, &bytes, NULL, NULL);
      const char *sum = keep (fixture, g_compute_checksum_for_string (G_CHECKSUM_SHA256, keep (fixture, bytes), -1));
      if (entry->included)
        g_string_append (sums, sum);
    }
  const char *whole = keep (fixture, g_compute_checksum_for_string (G_CHECKSUM_SHA256, sums->str, -1));
  const char *checksum = keep (fixture, sb_analysis_data_checksum (fixture->analysis));
  g_string_free (g_steal_pointer (&sums), TRUE);
  assert_int_equal (strlen (checksum), 8);
  assert_true (g_str_has_prefix (whole, checksum));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (results_are_the_same_streaming_kept_and_cached),
    bench_test (results_do_not_depend_on_the_number_of_threads),
    bench_test (toggled_trial_gives_what_a_fresh_reading_gives),
    bench_test (changed_choices_give_what_a_fresh_reading_gives),
    bench_test (excluded_trial_is_measured_but_not_averaged),
    bench_test (grid_is_as_coarse_as_the_coarsest_trial_wherever_it_stands),
    bench_test (coarser_trial_that_is_excluded_leaves_the_grid_fine),
    bench_test (logs_that_fail_are_results_that_say_why),
    bench_test (configuration_of_nothing_usable_has_no_summary),
    bench_test (cancelled_before_it_begins_gives_nothing),
    bench_test (cancelled_on_the_way_gives_nothing_and_a_later_run_everything),
    bench_test (log_cut_short_by_cancelling_is_no_log_that_failed),
    bench_test (progress_names_each_count_once),
    bench_test (cached_only_passes_over_what_was_not_read),
    bench_test (changed_file_is_read_again_once_forgotten),
    bench_test (file_that_changes_between_passes_is_averaged_as_it_was_read_last),
    bench_test (trials_are_kept_when_asked_for_only),
    bench_test (comparison_needs_two_sides),
    bench_test (settings_that_differ_are_named_and_no_others),
    bench_test (data_checksum_is_that_of_the_used_logs_in_order),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
