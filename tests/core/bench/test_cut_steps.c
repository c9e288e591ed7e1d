/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_claims.h"
#include "bench_fixture.h"
#include "cut_steps.h"
#include "results.h"
#include "session.h"

/* A log whose command holds each of the levels for 100 ms; the torque follows 2 ms later along a ramp of 10 ms. */
static const char *
write_levels (BenchFixture *fixture, const char *name, const double *levels, gsize n)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,torque_Nm\n");
  for (gsize i = 0; i < 100 * n; i++) {
    double now = levels[i / 100], before = i < 100 ? now : levels[i / 100 - 1];
    double share = fmin (1, fmax (0, ((double) (i % 100) - 2) / 10));
    char digits[3][G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd (digits[0], sizeof digits[0], "%.6f", (double) i / 1000);
    g_ascii_formatd (digits[1], sizeof digits[1], "%.9g", now);
    g_ascii_formatd (digits[2], sizeof digits[2], "%.9g", before + (now - before) * share);
    g_string_append_printf (text, "%s,%s,%s\n", digits[0], digits[1], digits[2]);
  }
  return write_file (fixture, name, text->str);
}

#define WRITE_LEVELS(fixture, name, ...)                                                                               \
  write_levels ((fixture), (name), (const double[]){ __VA_ARGS__ }, G_N_ELEMENTS (((const double[]){ __VA_ARGS__ })))

static void
analyse (BenchFixture *fixture, SbBench *bench)
{
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  fixture->analysis = sb_analysis_run (bench, fixture->cache, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_non_null (fixture->analysis);
}

/* The fixture's bench cut into its steps; held by the fixture. */
static SbBench *
cut (BenchFixture *fixture, const char *report_text)
{
  g_auto (SbCutReport) report = { 0 };
  analyse (fixture, fixture->bench);
  g_clear_pointer (&fixture->other_bench, sb_bench_unref);
  fixture->other_bench = sb_bench_cut_steps (fixture->analysis, &report);
  if (report_text == NULL) {
    assert_null (fixture->other_bench);
    return NULL;
  }
  const char *text = keep (fixture, sb_cut_report_text (&report));
  sb_cut_report_clear (&report);
  assert_non_null (fixture->other_bench);
  assert_string_equal (text, report_text);
  return fixture->other_bench;
}

static const SbTrialEntry *
entry_of (const SbBench *bench, guint configuration, guint trial)
{
  assert_true (configuration < bench->configurations->len);
  assert_true (trial < sb_bench_configuration (bench, configuration)->entries->len);
  return sb_configuration_entry (sb_bench_configuration (bench, configuration), trial);
}

static void
assert_configurations (const SbBench *bench, const char *const *names, const guint *n_trials, guint n)
{
  assert_int_equal (bench->configurations->len, n);
  for (guint c = 0; c < n; c++) {
    assert_string_equal (sb_bench_configuration (bench, c)->name, names[c]);
    assert_int_equal (sb_bench_configuration (bench, c)->entries->len, n_trials[c]);
  }
}

static void
alternating_steps_of_one_size_are_repeats_in_their_place (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "a.csv", 0, 8, 0, -8, 0), WRITE_LEVELS (fixture, "b.csv", 0, 8, 0) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 2);
  sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 0)->included = FALSE;
  const SbBench *bench = cut (fixture, "2 steps of a.csv are a trial each.");
  assert_configurations (bench, (const char *const[]){ "A" }, (const guint[]){ 3 }, 1);
  const SbTrialEntry *second = entry_of (bench, 0, 1);
  assert_string_equal (second->path, paths[0]);
  assert_int_equal (second->step, 2);
  assert_int_equal (second->n_steps, 2);
  assert_false (second->included); /* as its log was */
  assert_close (second->choices.from_s, 0.249, 1e-12);
  assert_close (second->choices.to_s, 0.399, 1e-12);
  assert_int_equal (entry_of (bench, 0, 2)->n_steps, 0);
  assert_int_equal (bench->reference, 0);
  assert_int_equal (sb_bench_configuration (fixture->bench, 0)->entries->len, 2); /* the bench given is untouched */
}

static void
every_step_is_measured_as_the_same_step_alone (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[]
      = { WRITE_LEVELS (fixture, "many.csv", 0, 8, 0, -8, 0, 8), WRITE_LEVELS (fixture, "one.csv", 0, 8) };
  sb_bench_add_configuration (fixture->bench, "many", paths, 1);
  sb_bench_add_configuration (fixture->bench, "one", paths + 1, 1);
  analyse (fixture, cut (fixture, "3 steps of many.csv are a trial each."));
  const SbConfigurationResult *many = sb_analysis_configuration (fixture->analysis, 0);
  const SbTrialResult *alone = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 1), 0);
  assert_int_equal (many->n_used, 3);
  for (guint t = 0; t < 3; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (many, t);
    for (int m = SB_MEASURE_PEAK_TORQUE; m < SB_N_MEASURES; m++) {
      const SbMeasure *one = &alone->measures->measure[m], *step = &trial->measures->measure[m];
      if (one->present && step->present && m != SB_MEASURE_TORQUE_SMOOTHNESS)
        assert_close (step->value, one->value, 1e-9 * (1 + fabs (one->value)));
    }
    assert_true (trial->measures->measure[SB_MEASURE_DEAD_TIME].present);
    assert_int_equal (trial->log_told, t > 0);
    assert_int_equal (trial->facts->notes->len, 0);
  }
  assert_string_equal (keep (fixture, sb_trial_result_label (sb_configuration_result_trial (many, 1))),
                       "many.csv, step 2 of 3 (at 0.300 s)");
  assert_string_equal (keep (fixture, sb_trial_result_label (alone)), "one.csv");
}

static void
staircases_are_compared_stair_by_stair (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[]
      = { WRITE_LEVELS (fixture, "a.csv", 0, 2.5, 5, 2.5, 0), WRITE_LEVELS (fixture, "b.csv", 0, 2.5, 5, 0),
          WRITE_LEVELS (fixture, "c.csv", 5, 2.5, 0, 2.5, 5), WRITE_LEVELS (fixture, "d.csv", 0, 4, 0) };
  sb_bench_add_configuration (fixture->bench, "first", paths + 3, 1);
  sb_bench_add_configuration (fixture->bench, "A", paths, 2);
  sb_bench_add_configuration (fixture->bench, "B", paths + 2, 1);
  sb_bench_edit_configuration (fixture->bench, 1)->style = 7;
  fixture->bench->reference = 2;
  fixture->bench->other = 1;
  const SbBench *bench = cut (fixture, "8 steps of 3 logs are a trial each, in 6 configurations by their levels.");
  static const char *const names[] = { "first",          "A, 0 → 2.5 N·m", "A, 2.5 → 5 N·m", "A, 5 → 2.5 N·m",
                                       "B, 5 → 2.5 N·m", "B, 2.5 → 0 N·m", "B, 0 → 2.5 N·m" };
  assert_configurations (bench, names, (const guint[]){ 1, 2, 2, 1, 1, 1, 1 }, 7);
  assert_int_equal (sb_bench_configuration (bench, 1)->style, 7);
  assert_int_equal (bench->reference, 4);
  assert_int_equal (entry_of (bench, 2, 1)->step, 2);
}

/* The step compared is the one like the reference's, where there is one. */
static void
roles_go_to_steps_that_are_alike (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "a.csv", 0, 4, 0), WRITE_LEVELS (fixture, "b.csv", 0, 2, 0, 4, 0) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 1);
  sb_bench_add_configuration (fixture->bench, "B", paths + 1, 1);
  const SbBench *bench = cut (fixture, "2 steps of b.csv are a trial each, in 2 configurations by their levels.");
  assert_int_equal (bench->reference, 0);
  assert_string_equal (sb_bench_configuration (bench, (guint) bench->other)->name, "B, 0 → 4 N·m");
}

/* A log that appears in a folder joins the configuration that took it over; its steps go where their like are. */
static void
steps_of_a_log_that_comes_later_join_their_like (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "a.csv", 0, 2, 4, 0), WRITE_LEVELS (fixture, "b.csv", 0, 4, 2, 4) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 1);
  sb_bench_set_folder (fixture->bench, 0, fixture->folder, NULL);
  SbBench *parts = cut (fixture, "2 steps of a.csv are a trial each, in 2 configurations by their levels.");
  assert_string_equal (sb_bench_configuration (parts, 0)->folder, fixture->folder);
  sb_bench_unref (fixture->bench);
  fixture->bench = sb_bench_ref (parts);
  sb_bench_add_logs (fixture->bench, 0, paths + 1, 1);
  const SbBench *bench = cut (fixture, "3 steps of b.csv are a trial each, in 2 configurations by their levels.");
  static const char *const names[] = { "A, 0 → 2 N·m", "A, 0 → 4 N·m", "A, 4 → 2 N·m", "A, 2 → 4 N·m" };
  assert_configurations (bench, names, (const guint[]){ 1, 1, 1, 2 }, 4);
  assert_int_equal (bench->reference, 0);
}

static void
logs_of_one_step_and_logs_with_a_choice_stay_whole (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "one.csv", 0, 8, 0), WRITE_LEVELS (fixture, "kept.csv", 0, 8, 0, 8, 0),
                          WRITE_LEVELS (fixture, "hand.csv", 0, 8, 0, 8, 0), path_in (fixture, "missing.csv") };
  sb_bench_add_configuration (fixture->bench, "A", paths, 4);
  SbConfiguration *own = sb_bench_edit_configuration (fixture->bench, 0);
  sb_configuration_entry (own, 1)->kept_whole = TRUE;
  sb_configuration_entry (own, 2)->choices.onset_s = 0.3;
  cut (fixture, NULL);
}

static void
first_step_alone_is_measured_when_chosen (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = WRITE_LEVELS (fixture, "a.csv", 0, 8, 0, 8, 0);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  fixture->bench->steps = SB_STEPS_FIRST;
  cut (fixture, NULL);
}

static void
cut_logs_are_cut_once (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = WRITE_LEVELS (fixture, "a.csv", 0, 8, 0, 8, 0);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  SbBench *bench = cut (fixture, "2 steps of a.csv are a trial each.");
  sb_bench_unref (fixture->bench);
  fixture->bench = sb_bench_ref (bench);
  sb_bench_add_logs (fixture->bench, 0, &path, 1);
  assert_int_equal (sb_bench_configuration (fixture->bench, 0)->entries->len, 2);
  cut (fixture, NULL);
}

static void
joined_log_is_whole_and_stays_so (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = WRITE_LEVELS (fixture, "a.csv", 0, 2, 4, 0);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  SbBench *parts = cut (fixture, "2 steps of a.csv are a trial each, in 2 configurations by their levels.");
  SbBench *joined = sb_bench_join_steps (parts, 1, path);
  sb_bench_unref (fixture->bench);
  fixture->bench = joined;
  assert_configurations (joined, (const char *const[]){ "A" }, (const guint[]){ 1 }, 1);
  assert_true (sb_trial_choices_whole (&entry_of (joined, 0, 0)->choices));
  assert_int_equal (entry_of (joined, 0, 0)->n_steps, 0);
  cut (fixture, NULL);
}

static void
choice_of_the_first_step_makes_every_log_whole (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "a.csv", 0, 2, 4, 0), WRITE_LEVELS (fixture, "b.csv", 0, 2, 4, 0) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 2);
  SbBench *parts = cut (fixture, "4 steps of 2 logs are a trial each, in 2 configurations by their levels.");
  SbBench *first = sb_bench_set_steps (parts, SB_STEPS_FIRST);
  sb_bench_unref (fixture->bench);
  fixture->bench = sb_bench_set_steps (first, SB_STEPS_ALL);
  sb_bench_unref (first);
  assert_configurations (fixture->bench, (const char *const[]){ "A" }, (const guint[]){ 2 }, 1);
  cut (fixture, "4 steps of 2 logs are a trial each, in 2 configurations by their levels.");
}

/* The second of three steps is left out; then both cuts are moved by a little, and the third stretch is kept. */
static void
moving_a_cut_leaves_out_what_was_left_out (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = WRITE_LEVELS (fixture, "a.csv", 0, 8, 0, 8, 0, 8, 0);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  const SbCut cuts[] = { { NAN, 0.25, 0, 8 }, { 0.25, 0.45, 0, 8 }, { 0.45, NAN, 0, 8 } };
  fixture->other_bench = sb_bench_cut_at (fixture->bench, 0, path, cuts, 3, NULL);
  SbTrialEntry *second = sb_configuration_entry (sb_bench_edit_configuration (fixture->other_bench, 0), 1);
  second->included = FALSE;
  second->exclusion_reason = g_ref_string_new ("the clamp slipped");
  sb_configuration_entry (sb_bench_edit_configuration (fixture->other_bench, 0), 2)->choices.onset_s = 0.51;

  const SbCut moved[] = { { NAN, 0.22, 0, 8 }, { 0.22, 0.45, 0, 8 }, { 0.45, NAN, 0, 8 } };
  sb_bench_unref (fixture->bench);
  fixture->bench = sb_bench_cut_at (fixture->other_bench, 0, path, moved, 3, NULL);
  assert_true (entry_of (fixture->bench, 0, 0)->included && entry_of (fixture->bench, 0, 2)->included);
  assert_false (entry_of (fixture->bench, 0, 1)->included);
  assert_string_equal (entry_of (fixture->bench, 0, 1)->exclusion_reason, "the clamp slipped");
  assert_null (entry_of (fixture->bench, 0, 0)->exclusion_reason);
  assert_close (entry_of (fixture->bench, 0, 2)->choices.onset_s, 0.51, 0);
}

static void
log_is_cut_by_hand_where_it_is_said (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "a.csv", 0, 8, 0, 8, 0), WRITE_LEVELS (fixture, "b.csv", 0, 8) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 2);
  const SbCut cuts[] = { { NAN, 0.25, 0, 8 }, { 0.25, NAN, 0, 8 } };
  fixture->other_bench = sb_bench_cut_at (fixture->bench, 0, paths[0], cuts, 2, NULL);
  const SbBench *bench = fixture->other_bench;
  assert_configurations (bench, (const char *const[]){ "A" }, (const guint[]){ 3 }, 1);
  assert_string_equal (entry_of (bench, 0, 0)->path, paths[1]);
  assert_true (isnan (entry_of (bench, 0, 1)->choices.from_s));
  assert_close (entry_of (bench, 0, 1)->choices.to_s, 0.25, 0);
  assert_int_equal (entry_of (bench, 0, 2)->step, 2);
  analyse (fixture, fixture->other_bench);
  const SbConfigurationResult *result = sb_analysis_configuration (fixture->analysis, 0);
  assert_int_equal (result->n_used, 3);
  assert_close (sb_configuration_result_trial (result, 2)->facts->onset_s, 0.3, 1e-12);
}

static void
steps_cut_by_hand_go_by_their_levels_too (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = WRITE_LEVELS (fixture, "a.csv", 0, 2, 4);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  const SbCut cuts[] = { { NAN, 0.15, 0, 2 }, { 0.15, NAN, 2, 4 } };
  fixture->other_bench = sb_bench_cut_at (fixture->bench, 0, path, cuts, 2, NULL);
  static const char *const names[] = { "A, 0 → 2 N·m", "A, 2 → 4 N·m" };
  assert_configurations (fixture->other_bench, names, (const guint[]){ 1, 1 }, 2);
  assert_int_equal (fixture->other_bench->reference, 0);
  /* Cut again elsewhere, the same configurations take the steps. */
  const SbCut moved[] = { { NAN, 0.18, 0, 2 }, { 0.18, NAN, 2, 4 } };
  SbBench *again = sb_bench_cut_at (fixture->other_bench, 1, path, moved, 2, NULL);
  sb_bench_unref (fixture->other_bench);
  fixture->other_bench = again;
  assert_configurations (again, names, (const guint[]){ 1, 1 }, 2);
  assert_close (entry_of (again, 1, 0)->choices.from_s, 0.18, 0);
}

/* Of a log among others, the steps like theirs stay with them. */
static void
steps_cut_by_hand_stay_with_their_like (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "a.csv", 0, -8, 8), WRITE_LEVELS (fixture, "b.csv", 0, 8) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 2);
  const SbCut cuts[] = { { NAN, 0.15, 0, -8 }, { 0.15, NAN, -8, 8 } }, others = { NAN, NAN, 0, 8 };
  fixture->other_bench = sb_bench_cut_at (fixture->bench, 0, paths[0], cuts, 2, &others);
  static const char *const names[] = { "A", "A, −8 → 8 N·m" };
  assert_configurations (fixture->other_bench, names, (const guint[]){ 2, 1 }, 2);
  SbBench *rest = sb_bench_cut_at (fixture->other_bench, 0, paths[0], cuts + 1, 1, &others);
  sb_bench_unref (fixture->other_bench);
  fixture->other_bench = rest;
  assert_configurations (rest, names, (const guint[]){ 1, 1 }, 2);
}

/* A measured level is a little off; the name is not. */
static void
levels_are_named_without_their_noise (void **state)
{
  BenchFixture *fixture = *state;
  static const struct {
    double base, top;
    const char *text;
  } levels[] = { { 0.0065, 4.0138, "0 → 4 N·m" },   { -0.02, -3.9989, "0 → −4 N·m" }, { 2.5, 5.02, "2.5 → 5.02 N·m" },
                 { 12.5, 22.5, "12.5 → 22.5 N·m" }, { -8.01, 8.02, "−8 → 8 N·m" },    { 0, 0.25, "0 → 0.25 N·m" } };
  for (gsize i = 0; i < G_N_ELEMENTS (levels); i++)
    assert_string_equal (keep (fixture, sb_step_levels_text (levels[i].base, levels[i].top)), levels[i].text);
  assert_null (sb_step_levels_text (NAN, NAN));
}

static void
session_brings_the_steps_back (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = WRITE_LEVELS (fixture, "a.csv", 0, 8, 0, 8, 0);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  SbBench *parts = cut (fixture, "2 steps of a.csv are a trial each.");
  parts->steps = SB_STEPS_FIRST;
  const char *file = path_in (fixture, "cut.slewbench");
  assert_true (sb_session_save (parts, NULL, file, NULL));
  sb_bench_unref (fixture->bench);
  fixture->bench = sb_session_load (file, &fixture->error);
  assert_non_null (fixture->bench);
  assert_int_equal (fixture->bench->steps, SB_STEPS_FIRST);
  for (guint t = 0; t < 2; t++) {
    const SbTrialEntry *saved = entry_of (parts, 0, t), *loaded = entry_of (fixture->bench, 0, t);
    assert_true (sb_trial_entry_same_stretch (saved, loaded));
    assert_int_equal (saved->step, loaded->step);
    assert_int_equal (saved->n_steps, loaded->n_steps);
  }
}

/* Of 60 steps. */
static SbBench *
cut_long_log (BenchFixture *fixture)
{
  double levels[120];
  for (gsize i = 0; i < 120; i++)
    levels[i] = i % 2 == 0 ? 0 : 5;
  const char *path = write_levels (fixture, "long.csv", levels, 120);
  sb_bench_add_configuration (fixture->bench, "A", &path, 1);
  return cut (fixture, "60 steps of long.csv are a trial each.");
}

/* With the whole log in the cache its file can go. */
static void
cached_log_serves_all_of_its_steps (void **state)
{
  BenchFixture *fixture = *state;
  fixture->cache = sb_cache_new ();
  SbBench *parts = cut_long_log (fixture);
  SbCache *cache = g_steal_pointer (&fixture->cache);
  analyse (fixture, parts);
  fixture->cache = cache;
  const char *without = keep (fixture, sb_results_json (fixture->analysis)), *path = path_in (fixture, "long.csv");
  g_unlink (path);
  analyse (fixture, parts);
  assert_string_equal (keep (fixture, sb_results_json (fixture->analysis)), without);
  sb_cache_forget (fixture->cache, path);
  analyse (fixture, parts);
  assert_int_equal (fixture->analysis->n_failed, 60);
}

static void
remove_log (gsize n_done, gsize n_total, gpointer user_data)
{
  g_unlink (user_data);
}

/* The file goes away when the first of 60 steps is worked out, when the other threads can have opened it themselves. */
static void
batch_run_reads_a_log_once_for_all_of_its_steps (void **state)
{
  BenchFixture *fixture = *state;
  SbBench *parts = cut_long_log (fixture);
  const char *path = path_in (fixture, "long.csv");
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  fixture->analysis
      = sb_analysis_run (parts, NULL, SB_ANALYSIS_DEFAULT, remove_log, (gpointer) (gsize) path, NULL, NULL);
  assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  assert_int_equal (fixture->analysis->n_failed, 0);
}

/* A staircase becomes two configurations: what was stated of it goes to the first, what was stated of the one behind
 * stays with that one. */
static void
stated_figures_follow_a_configuration_that_is_cut (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { WRITE_LEVELS (fixture, "stairs.csv", 0, 2, 4), WRITE_LEVELS (fixture, "b.csv", 0, 8) };
  sb_bench_add_configuration (fixture->bench, "A", paths, 1);
  sb_bench_add_configuration (fixture->bench, "B", paths + 1, 1);
  for (int c = 0; c < 2; c++) {
    SbClaim claim = { c, NULL, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, 1, 0 };
    sb_bench_add_claim (fixture->bench, &claim);
  }
  analyse (fixture, fixture->bench);
  g_auto (SbCutReport) report = { 0 };
  fixture->other_bench = sb_bench_cut_steps (fixture->analysis, &report);
  sb_cut_report_clear (&report);
  assert_non_null (fixture->other_bench);
  const SbBench *bench = fixture->other_bench;
  assert_int_equal (bench->configurations->len, 3);
  assert_int_equal (sb_bench_claim (bench, 0)->configuration, 0);
  assert_string_equal (sb_bench_configuration (bench, 2)->name, "B");
  assert_int_equal (sb_bench_claim (bench, 1)->configuration, 2);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (alternating_steps_of_one_size_are_repeats_in_their_place),
    bench_test (every_step_is_measured_as_the_same_step_alone),
    bench_test (staircases_are_compared_stair_by_stair),
    bench_test (roles_go_to_steps_that_are_alike),
    bench_test (steps_of_a_log_that_comes_later_join_their_like),
    bench_test (logs_of_one_step_and_logs_with_a_choice_stay_whole),
    bench_test (first_step_alone_is_measured_when_chosen),
    bench_test (cut_logs_are_cut_once),
    bench_test (joined_log_is_whole_and_stays_so),
    bench_test (choice_of_the_first_step_makes_every_log_whole),
    bench_test (moving_a_cut_leaves_out_what_was_left_out),
    bench_test (log_is_cut_by_hand_where_it_is_said),
    bench_test (steps_cut_by_hand_go_by_their_levels_too),
    bench_test (steps_cut_by_hand_stay_with_their_like),
    bench_test (levels_are_named_without_their_noise),
    bench_test (session_brings_the_steps_back),
    bench_test (cached_log_serves_all_of_its_steps),
    bench_test (batch_run_reads_a_log_once_for_all_of_its_steps),
    bench_test (stated_figures_follow_a_configuration_that_is_cut),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
