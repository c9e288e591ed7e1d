/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The methods text says what was done and nothing else: of one repeat no mean, no interval, no comparison. */
#include "bench_fixture.h"
#include "methods_table.h"
#include "results.h"

/* Configurations with so many repeats each, in folders "c0", "c1"; no two logs are alike. */
static void
add_configurations (BenchFixture *fixture, const int *n_repeats, int n)
{
  for (int c = 0; c < n; c++) {
    const char *paths[4];
    assert_true (n_repeats[c] <= 4);
    for (int t = 0; t < n_repeats[c]; t++) {
      g_autofree char *name = g_strdup_printf ("c%d/run-%d.csv", c, t + 1);
      StepLog step = STEP_LOG;
      step.head = c == 0 ? "# device: Alder\n# firmware: 2.1\n# setting torque slope: 0.4 N·m/ms\n" : "";
      step.ramp_ms = 10 + 5 * c + 0.2 * t;
      paths[t] = write_step (fixture, name, step);
    }
    g_autofree char *title = g_strdup_printf ("Set %d", c);
    sb_bench_add_configuration (fixture->bench, title, paths, (gsize) n_repeats[c]);
  }
}

static const char *
methods (BenchFixture *fixture)
{
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_non_null (fixture->analysis);
  return keep (fixture, sb_results_methods_text (fixture->analysis));
}

static void
assert_has (const char *text, const char *words)
{
  if (strstr (text, words) == NULL)
    fail_msg ("'%s' is not in: %s", words, text);
}

static void
assert_has_not (const char *text, const char *words)
{
  if (strstr (text, words) != NULL)
    fail_msg ("'%s' is in: %s", words, text);
}

static void
one_repeat_has_no_mean_no_band_and_no_test (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 1 }, 1);
  const char *text = methods (fixture);
  assert_has (text, "Set 0: 1 repeat at 1000 samples per second; device Alder, firmware 2.1;");
  assert_has (text,
              "Time is counted from the onset of the step: where the command crosses the middle of its two levels "
              "(1 trial).");
  assert_has (text, "Figures are those of a single repeat; nothing is known of their scatter.");
  static const char *const not_done[] = { "aligned", "interpolated", "means", "Bands", "Welch", "Holm", "audited" };
  for (gsize i = 0; i < G_N_ELEMENTS (not_done); i++)
    assert_has_not (text, not_done[i]);
}

static void
lone_repeat_beside_others_is_told_and_not_compared (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 3, 1 }, 2);
  const char *text = methods (fixture);
  assert_has (text,
              "The repeats were aligned on the onset of the step: where the command crosses the middle of its two "
              "levels (4 trials).");
  assert_has (text, "The configuration with one repeat has no deviation and no interval.");
  assert_has (text, "Set 1 could not be compared with Set 0 in any measure");
  assert_has_not (text, "Welch");
}

static void
two_single_repeats_are_told_in_the_plural (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 1, 1 }, 2);
  const char *text = methods (fixture);
  assert_has (text, "Figures are those of single repeats; nothing is known of their scatter.");
  assert_has_not (text, "means");
}

static void
exclusions_of_one_reason_are_one_sentence (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 4 }, 1);
  SbConfiguration *configuration = sb_bench_edit_configuration (fixture->bench, 0);
  for (guint t = 0; t < 3; t++)
    sb_configuration_entry (configuration, t)->included = FALSE;
  sb_configuration_entry (configuration, 1)->exclusion_reason = g_ref_string_new ("rim touched");
  const char *text = methods (fixture);
  assert_has (text, " run-1.csv and run-3.csv were excluded by the tester (no reason given). "
                    "run-2.csv was excluded by the tester (rim touched).");
}

static void
nothing_used_says_nothing_of_figures (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 1 }, 1);
  sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 0)->included = FALSE;
  const char *text = methods (fixture);
  assert_has (text, "Set 0: 0 repeats. run-1.csv was excluded by the tester (no reason given).");
  assert_has_not (text, "Figures are");
  assert_has_not (text, "onset");
  assert_has_not (text, "\n. ");
}

static void
each_band_is_told (void **state)
{
  static const struct {
    SbBandKind band;
    double k;
    const char *words;
  } bands[] = {
    { SB_BAND_SD, 1, "Bands around mean curves reach 1 standard deviation of the repeats to either side." },
    { SB_BAND_SD, 2, "Bands around mean curves reach 2 standard deviations of the repeats to either side." },
    { SB_BAND_CONFIDENCE, 1, "Bands around mean curves are 95 % intervals of the mean after Student" },
    { SB_BAND_RANGE, 1, "Bands around mean curves reach from the smallest to the largest of the repeats." },
    { SB_BAND_QUARTILES, 1, "Bands around mean curves reach from the first to the third quartile of the repeats." },
  };
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 2 }, 1);
  for (gsize i = 0; i < G_N_ELEMENTS (bands); i++) {
    fixture->bench->band = bands[i].band;
    fixture->bench->band_k = bands[i].k;
    assert_has (methods (fixture), bands[i].words);
  }
}

/* Three used of four, one left out with a reason that Markdown would take for the end of its cell. */
static void
table_names_device_settings_and_what_was_left_out (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 4, 2 }, 2);
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 1);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("rim | touched");
  const char *text = methods (fixture);
  assert_has (text,
              "\n\n| Configuration | Device | Firmware | Settings | Repeats used | Left out | Samples per second | "
              "Onset from |\n|:---|:---|:---|:---|:---|:---|:---|:---|\n");
  assert_has (text, "| Set 0 | Alder | 2.1 | torque slope 0.4 N·m/ms | 3 of 4 | run-2.csv: rim \\| touched | 1000 | "
                    "command |\n");
  assert_has (text, "| Set 1 | – | – | – | 2 | – | 1000 | command |\n");
  assert_has_not (keep (fixture, sb_results_methods_paragraphs (fixture->analysis)), "| Set 0");
}

/* Settling times 4 ms apart, of which noise may account by raising them (rule 1) or by the crests at which it has them
 * read (rule 2): each rule is told with what it left open. */
static void
rules_for_noise_are_told_with_what_they_left_open (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 2, 2 }, 2);
  assert_has_not (methods (fixture), "a quarter more");
  SbMeasureComparison *measure = &fixture->analysis->comparison->measure[SB_MEASURE_SETTLING_TIME];
  measure->present = measure->within_noise = TRUE;
  measure->verdict = SB_VERDICT_UNDECIDED;
  measure->welch.difference = 4e-3;
  measure->by_noise = 3e-3;
  const char *text = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_has (text, "and a quarter more, and for figures that stand above the noise on a side; that left undecided: "
                    "settling time. ");
  assert_has_not (text, "crest");
  measure->by_crests = 5e-3;
  text = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_has (text, "the sides had to be further apart than these crests; that left undecided: settling time. ");
  assert_has_not (text, "a quarter more");
  g_autofree char *json = sb_results_json (fixture->analysis);
  assert_has (json, "\"by_noise\" : 0.003");
  assert_has (json, "\"by_crests\" : 0.005");
}

/* The fixture's commands jump at one and the same place of the sample interval, as with a clock tied to them. */
static void
rule_for_sampling_is_told_with_what_it_left_open (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 2, 2 }, 2);
  assert_has (methods (fixture), "wherever in the sample interval before it either command jumped, as the repeats' "
                                 "scatter does not show it; that left undecided: dead time");
  SbMeasureComparison *measures = fixture->analysis->comparison->measure;
  for (int m = 0; m < SB_N_MEASURES; m++)
    measures[m].within_sampling = FALSE;
  assert_has_not (keep (fixture, sb_results_methods_text (fixture->analysis)), "command jumped");
}

/* The fixture's logs rest at 0 N·m; one whose sensor reads 1 N·m more rests at that, an eighth of the step. */
static void
level_that_the_torque_rests_at_is_told_where_it_is_not_zero (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 2 }, 1);
  const char *text = methods (fixture);
  assert_has (text, "from its own level before the step, peak torque from the zero of its sensor. ");
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
  trial->measures->transition.base_nm += 1;
  text = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_has (text, "peak torque from the zero of its sensor; that level was 0.000 to 1.000 N·m. ");
}

static void
planned_difference_is_told_as_chosen (void **state)
{
  BenchFixture *fixture = *state;
  add_configurations (fixture, (int[]){ 2, 2 }, 2);
  assert_has_not (methods (fixture), "planned");
  fixture->bench->plan = TRUE;
  fixture->bench->plan_ratio = 0.07;
  fixture->bench->verdict_level = 0.01;
  assert_has (methods (fixture),
              "planned for a true difference of 7 % of the reference mean, each measure by itself: the "
              "least number on either side with which Welch's two-sided test at the level 0.01 ");
  fixture->bench->plan_ratio = 0;
  fixture->bench->margin_ratio = 0.03;
  assert_has (methods (fixture), "planned for a true difference of ± 3 % of the reference mean");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (one_repeat_has_no_mean_no_band_and_no_test),
    bench_test (level_that_the_torque_rests_at_is_told_where_it_is_not_zero),
    bench_test (planned_difference_is_told_as_chosen),
    bench_test (lone_repeat_beside_others_is_told_and_not_compared),
    bench_test (two_single_repeats_are_told_in_the_plural),
    bench_test (exclusions_of_one_reason_are_one_sentence),
    bench_test (nothing_used_says_nothing_of_figures),
    bench_test (each_band_is_told),
    bench_test (rules_for_noise_are_told_with_what_they_left_open),
    bench_test (rule_for_sampling_is_told_with_what_it_left_open),
    bench_test (table_names_device_settings_and_what_was_left_out),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
