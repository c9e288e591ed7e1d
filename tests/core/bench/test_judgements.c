/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which settings are audited, how stated figures are written and kept, and what becomes of both in the results. */
#include "audit_apart.h"
#include "bench_claims.h"
#include "bench_fixture.h"
#include "results.h"
#include "session.h"

/* A configuration of four repeats with these comment lines and ramps about `ramp_ms`: 8 N·m, so 8 / ramp_ms N·m/ms. */
static void
add_configuration (BenchFixture *fixture, const char *name, double ramp_ms, const char *head)
{
  const char *paths[4];
  for (int i = 0; i < 4; i++) {
    StepLog step = STEP_LOG;
    step.ramp_ms = ramp_ms * (1 + 0.004 * (i - 1.5)); /* means are those of the middle, to one part in 10^5 */
    step.head = head;
    paths[i] = write_step (fixture, keep (fixture, g_strdup_printf ("%s/run-%d.csv", name, i + 1)), step);
  }
  sb_bench_add_configuration (fixture->bench, name, paths, 4);
}

static const SbAnalysis *
analyse (BenchFixture *fixture)
{
  sb_analysis_unref (fixture->analysis);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  assert_non_null (fixture->analysis);
  return fixture->analysis;
}

static const SbAuditedSetting *
audit_at (const SbAnalysis *analysis, guint index)
{
  assert_true (index < analysis->audits->len);
  return g_ptr_array_index (analysis->audits, index);
}

static void
settings_that_differ_alone_are_audited (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 40, "# device: Alder\n# setting torque slope: 0.2 N·m/ms\n# setting filter: 0 %\n");
  add_configuration (fixture, "b", 20, "# device: Alder\n# setting torque slope: 0.4 N·m/ms\n# setting filter: 0 %\n");
  add_configuration (fixture, "c", 20, "# device: Alder\n# setting torque slope: 0.4 N·m/ms\n# setting filter: 5 %\n");
  add_configuration (fixture, "d", 20, "# device: Birch\n# setting torque slope: 0.8 N·m/ms\n# setting filter: 0 %\n");
  const SbAnalysis *analysis = analyse (fixture);
  /* a and b differ in the slope alone, b and c in the filter; d is of another device. */
  assert_int_equal (analysis->audits->len, 2);
  assert_string_equal (audit_at (analysis, 0)->title, "torque slope");
  assert_int_equal (audit_at (analysis, 0)->configurations->len, 2);
  assert_int_equal (audit_at (analysis, 0)->audit->verdict, SB_AUDIT_LIMITS);
  const char *methods = keep (fixture, sb_results_methods_text (analysis));
  const char *stays = strstr (methods, "A measure stays when"), *moves = strstr (methods, "else it moves when");
  assert_true (stays != NULL && moves > stays); /* the order in which it is decided */
  assert_string_equal (audit_at (analysis, 1)->title, "filter");
  assert_int_equal (g_array_index (audit_at (analysis, 1)->configurations, guint, 0), 1);
  assert_int_equal (g_array_index (audit_at (analysis, 1)->configurations, guint, 1), 2);
}

/* Two slopes by two filters of one device: each audit says at which value of the other setting it was made. */
static void
audits_of_one_setting_on_one_device_are_told_apart (void **state)
{
  BenchFixture *fixture = *state;
  for (int i = 0; i < 4; i++)
    add_configuration (fixture, keep (fixture, g_strdup_printf ("set %d", i)), i % 2 == 0 ? 40 : 20,
                       keep (fixture, g_strdup_printf ("# device: Alder\n# setting torque slope: %s N·m/ms\n"
                                                       "# setting filter: %d %%\n",
                                                       i % 2 == 0 ? "0.2" : "0.4", i < 2 ? 0 : 5)));
  const SbAnalysis *analysis = analyse (fixture);
  static const char *const titles[]
      = { "torque slope of Alder at filter 0 %", "torque slope of Alder at filter 5 %",
          "filter of Alder at torque slope 0.2 N·m/ms", "filter of Alder at torque slope 0.4 N·m/ms" };
  assert_int_equal (analysis->audits->len, G_N_ELEMENTS (titles));
  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    assert_string_equal (audit_at (analysis, i)->title, titles[i]);
}

static void
named_setting_is_audited_though_more_differs (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 40, "# rotation_deg: 540\n# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "b", 20, "# rotation_deg: 900\n# setting torque slope: 0.4 N·m/ms\n");
  assert_int_equal (analyse (fixture)->audits->len, 0);
  /* Each of the two differs, and keeps the other from being audited. */
  assert_int_equal (fixture->analysis->unaudited->len, 2);
  assert_string_equal (g_ptr_array_index (fixture->analysis->unaudited, 0),
                       "torque slope is not audited: no two configurations at different levels of it are alike in all "
                       "else. Nearest are “a” and “b”, which differ too in rotation range (540 deg, 900 deg).");
  assert_non_null (strstr (g_ptr_array_index (fixture->analysis->unaudited, 1),
                           "which differ too in torque slope (0.2 N·m/ms, 0.4 N·m/ms)."));
  const char *names[] = { "Torque Slope", "rotation range", "colour" };
  sb_bench_set_audits (fixture->bench, names, 3);
  const SbAnalysis *analysis = analyse (fixture);
  assert_int_equal (analysis->audits->len, 3);
  assert_int_equal (audit_at (analysis, 0)->audit->levels->len, 2);
  assert_int_equal (audit_at (analysis, 0)->audit->fairness->len, 1);
  assert_string_equal (g_ptr_array_index (audit_at (analysis, 0)->audit->fairness, 0),
                       "rotation range: 540 deg at 0.2 N·m/ms, 900 deg at 0.4 N·m/ms");
  assert_true (audit_at (analysis, 1)->audit->of_range);
  assert_string_equal (sb_audit_level (audit_at (analysis, 1)->audit, 0)->text, "540 deg");
  assert_int_equal (audit_at (analysis, 1)->audit->verdict, SB_AUDIT_LIMITS); /* the slope differs with the range */
  assert_int_equal (audit_at (analysis, 2)->audit->verdict, SB_AUDIT_CANNOT_TELL); /* nobody states a colour */
  assert_int_equal (analysis->unaudited->len, 0);
}

/* A named setting with one level has one; logs of one configuration that state two are told. */
static void
levels_that_are_missing_or_disagree_are_told (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 40, "# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "b", 20, "");
  const char *names[] = { "torque slope" };
  sb_bench_set_audits (fixture->bench, names, 1);
  const SbAudit *audit = audit_at (analyse (fixture), 0)->audit;
  assert_int_equal (audit->reasons->len, 1);
  assert_string_equal (g_ptr_array_index (audit->reasons, 0),
                       "An audit needs the setting at two levels or more; there is one: 0.2 N·m/ms.");
  StepLog odd = STEP_LOG;
  odd.head = "# setting torque slope: 0.4 N·m/ms\n";
  write_step (fixture, "a/run-3.csv", odd);
  sb_bench_set_audits (fixture->bench, NULL, 0);
  const SbAnalysis *analysis = analyse (fixture);
  assert_int_equal (analysis->unaudited->len, 1);
  assert_string_equal (g_ptr_array_index (analysis->unaudited, 0),
                       "torque slope of “a” is not audited: its logs state 0.2 N·m/ms and 0.4 N·m/ms. Sort them into a "
                       "configuration for each level.");
}

/* Of three, a and c differ in three things besides the level, b and c in the device alone; a and b are at one level. */
static void
nearest_configurations_are_named (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 40,
                     "# device: Alder\n# firmware: 1\n# inertia_kg_m2: 0.2\n# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "b", 38,
                     "# device: Alder\n# firmware: 2\n# inertia_kg_m2: 0.1\n# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "c", 20,
                     "# device: Birch\n# firmware: 2\n# inertia_kg_m2: 0.1\n# setting torque slope: 0.4 N·m/ms\n");
  const SbAnalysis *analysis = analyse (fixture);
  assert_int_equal (analysis->audits->len, 0);
  assert_int_equal (analysis->unaudited->len, 1);
  assert_non_null (strstr (g_ptr_array_index (analysis->unaudited, 0),
                           "Nearest are “b” and “c”, which differ too in device (Alder, Birch)."));
  assert_non_null (strstr (keep (fixture, sb_results_table_text (analysis)), "torque slope is not audited"));
}

/* 0.0992 is within 1 % of 0.1000, and 0.0985 of 0.0992, but not of 0.1000. */
static void
likeness_that_is_no_chain_is_told (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 40, "# inertia_kg_m2: 0.1000\n# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "b", 38, "# inertia_kg_m2: 0.0992\n# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "c", 20, "# inertia_kg_m2: 0.0985\n# setting torque slope: 0.4 N·m/ms\n");
  const SbAnalysis *analysis = analyse (fixture);
  assert_int_equal (analysis->unaudited->len, 1);
  assert_string_equal (g_ptr_array_index (analysis->unaudited, 0),
                       "torque slope is not audited: “b” and “c” are alike in all else within 1 %, but not all that "
                       "are alike to one of them are to the other. Name it among the audits to have it audited.");
}

static void
search_for_the_nearest_heeds_its_cancelling (void **state)
{
  (void) state;
  char name[] = "torque slope", low[] = "0.2", high[] = "0.4", unit[] = "";
  SbSetting slope[2] = { { name, low, 0.2, unit }, { name, high, 0.4, unit } };
  SbTrialFacts facts[2] = { { .rotation_deg = 540 }, { .rotation_deg = 900 } };
  SbAuditApart stated[2] = { { "a", &facts[0] }, { "b", &facts[1] } };
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_ptr_array_add (names, name);
  for (int i = 0; i < 2; i++) {
    facts[i].settings = g_ptr_array_new ();
    g_ptr_array_add (facts[i].settings, &slope[i]);
  }
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *sentence = sb_audit_apart_sentence ("torque slope", FALSE, stated, 2, names, cancellable);
  assert_non_null (sentence);
  g_cancellable_cancel (cancellable);
  assert_null (sb_audit_apart_sentence ("torque slope", FALSE, stated, 2, names, cancellable));
  for (int i = 0; i < 2; i++)
    g_ptr_array_unref (facts[i].settings);
}

/* Inertias within 1 % of the larger are alike, wherever rounding them would split: 0.0996 and 0.1000; 0.0988 is 1.2 %
 * below 0.1. */
static void
rigs_alike_within_one_percent_are_audited_together (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 40, "# inertia_kg_m2: 0.1\n# setting torque slope: 0.2 N·m/ms\n");
  add_configuration (fixture, "b", 20, "# inertia_kg_m2: 0.0996\n# setting torque slope: 0.4 N·m/ms\n");
  add_configuration (fixture, "c", 10, "# inertia_kg_m2: 0.0988\n# setting torque slope: 0.8 N·m/ms\n");
  const SbAnalysis *analysis = analyse (fixture);
  assert_close (sb_configuration_result_trial (sb_analysis_configuration (analysis, 1), 0)->facts->inertia_kg_m2,
                0.0996, 1e-12);
  assert_int_equal (analysis->audits->len, 1);
  assert_int_equal (audit_at (analysis, 0)->configurations->len, 2);
}

/* A number that differs in every configuration: 50 levels are audited unasked, 51 when they are asked for. */
static void
run_numbers_are_not_audited_unasked (void **state)
{
  BenchFixture *fixture = *state;
  for (int i = 0; i < 51; i++) {
    StepLog step = STEP_LOG;
    step.interval_ms = 2;
    step.head = keep (fixture, g_strdup_printf ("# device: Alder\n# setting run: %d\n", i));
    const char *paths[] = { write_step (fixture, keep (fixture, g_strdup_printf ("run-%02d.csv", i)), step) };
    sb_bench_add_configuration (fixture->bench, keep (fixture, g_strdup_printf ("r%d", i)), paths, 1);
    if (i == 49)
      assert_int_equal (audit_at (analyse (fixture), 0)->audit->levels->len, 50);
  }
  const SbAuditedSetting *refused = audit_at (analyse (fixture), 0);
  assert_int_equal (refused->audit->levels->len, 0);
  assert_int_equal (refused->audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_int_equal (refused->audit->reasons->len, 1);
  assert_non_null (strstr (g_ptr_array_index (refused->audit->reasons, 0), "It has 51 levels, more than the 50"));
  assert_non_null (keep (fixture, sb_results_table_text (fixture->analysis)));
  const char *names[] = { "run" };
  sb_bench_set_audits (fixture->bench, names, 1);
  assert_int_equal (audit_at (analyse (fixture), 0)->audit->levels->len, 51);
}

/* As people write them; values are SI by the definitions of the units. */
static const struct {
  const char *text;
  int configuration;
  const char *device;
  SbMeasureId measure;
  SbClaimRelation relation;
  double value, tolerance;
} written[] = {
  { "a: peak_torque_slope >= 2 N·m/ms", 0, NULL, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 2000, 0 },
  { "a:peak_torque_slope≥2000 Nm/s", 0, NULL, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 2000, 0 },
  { "Alder: Peak torque slope at least 0.5 N·m/ms", -1, "Alder", SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 500,
    0 },
  { "dead_time <= 5 ms", -1, NULL, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.005, 0 },
  { "b: odd: dead_time at most 0.005 s", 1, NULL, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.005, 0 },
  { "peak_velocity ~ 40 rad/s", -1, NULL, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 40, 2 },
  { "peak_velocity about 40 rad/s ± 1 rad/s", -1, NULL, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 40, 1 },
  { "peak_torque about 12 N·m ± 10 %", -1, NULL, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_ABOUT, 12, 1.2 },
  { "overshoot <= 5 %", -1, NULL, SB_MEASURE_OVERSHOOT, SB_CLAIM_AT_MOST, 0.05, 0 },
  { "ringing_frequency >= 0.04 kHz", -1, NULL, SB_MEASURE_RINGING_FREQUENCY, SB_CLAIM_AT_LEAST, 40, 0 },
};

static void
stated_figures_are_read_as_people_write_them (void **state)
{
  BenchFixture *fixture = *state;
  sb_bench_add_configuration (fixture->bench, "a", NULL, 0);
  sb_bench_add_configuration (fixture->bench, "b: odd", NULL, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (written); i++) {
    SbClaim *claim = sb_claim_parse (fixture->bench, written[i].text, &fixture->error);
    if (claim == NULL)
      fail_msg ("%s: %s", written[i].text, fixture->error->message);
    sb_bench_add_claim (fixture->bench, claim);
    sb_claim_free (claim);
    const SbClaim *kept = sb_bench_claim (fixture->bench, (guint) i);
    assert_int_equal (kept->configuration, written[i].configuration);
    assert_int_equal (g_strcmp0 (kept->device, written[i].device), 0);
    assert_int_equal (kept->measure, written[i].measure);
    assert_int_equal (kept->relation, written[i].relation);
    assert_close_relative (kept->value, written[i].value, 1e-12);
    assert_close (kept->tolerance, written[i].tolerance, 1e-12);
  }
}

static void
wrong_figures_are_refused_with_what_is_wrong (void **state)
{
  static const char *const wrong[][2] = {
    { "peak_torque_slope 2 N·m/ms", ">=" },
    { "steepness >= 2 N·m/ms", "no measure is called 'steepness'; nearest is '" },
    { "transition duraton <= 2 ms", "nearest is 'torque_transition_time'. The keys are peak_velocity, " },
    { "peak_torque_slope >= two", "does not begin with a number" },
    { "peak_torque_slope >= 2", "'2' has no unit; Peak torque slope is stated in N·m/ms, as in '2 N·m/ms'" },
    { "peak_torque_slope >= 2,5 N·m/ms", "'2,5 N·m/ms' has a comma in its number; write a decimal point" },
    { "peak_torque_slope >= 2 N·m", "stated in N·m/ms" },
    { "dead_time <= 5 N·m", "stated in ms" },
    { "dead_time <= 5 ms ± 1 ms", "belongs to 'about'" },
    { "dead_time ~ 5 ms ± -1 ms", "below nothing" },
  };
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++) {
    g_clear_error (&fixture->error);
    assert_null (sb_claim_parse (fixture->bench, wrong[i][0], &fixture->error));
    if (strstr (fixture->error->message, wrong[i][1]) == NULL)
      fail_msg ("%s: %s", wrong[i][0], fixture->error->message);
  }
}

static void
add_claims (BenchFixture *fixture)
{
  SbClaim of_second = { 1, NULL, SB_MEASURE_DEAD_TIME, SB_CLAIM_ABOUT, 0.1 + 0.2, 1.0 / 3 };
  SbClaim of_device = { -1, g_ref_string_new ("Alder"), SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_MOST, 12, 0 };
  sb_bench_add_claim (fixture->bench, &of_second);
  sb_bench_add_claim (fixture->bench, &of_device);
  g_ref_string_release (of_device.device);
}

static void
session_keeps_audits_and_stated_figures (void **state)
{
  BenchFixture *fixture = *state;
  sb_bench_add_configuration (fixture->bench, "a", NULL, 0);
  sb_bench_add_configuration (fixture->bench, "b", NULL, 0);
  add_claims (fixture);
  const char *names[] = { "torque slope" };
  sb_bench_set_audits (fixture->bench, names, 1);
  const char *path = path_in (fixture, "kept.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  fixture->other_bench = sb_session_load (path, &fixture->error);
  assert_non_null (fixture->other_bench);
  assert_int_equal (sb_bench_n_claims (fixture->other_bench), 2);
  for (guint i = 0; i < 2; i++)
    assert_true (sb_claim_equal (sb_bench_claim (fixture->bench, i), sb_bench_claim (fixture->other_bench, i)));
  assert_int_equal (fixture->other_bench->audits->len, 1);
  assert_string_equal (g_ptr_array_index (fixture->other_bench->audits, 0), "torque slope");
  assert_null (fixture->other_bench->unknown);
}

static void
session_with_wrong_judgements_is_refused (void **state)
{
  static const char *const wrong[][2] = {
    { "\"audits\": \"torque slope\"", "audits" },
    { "\"audits\": [3]", "audits" },
    { "\"claims\": {}", "claims" },
    { "\"claims\": [1]", "object" },
    { "\"claims\": [{\"measure\": \"steepness\", \"relation\": \"about\", \"value\": 1}]", "measure" },
    { "\"claims\": [{\"measure\": \"dead_time\", \"relation\": \"over\", \"value\": 1}]", "relation" },
    { "\"claims\": [{\"measure\": \"dead_time\", \"relation\": \"at most\"}]", "value" },
    { "\"claims\": [{\"measure\": \"dead_time\", \"relation\": \"about\", \"value\": 1}]", "tolerance" },
    { "\"claims\": [{\"measure\": \"dead_time\", \"relation\": \"about\", \"value\": 1, \"tolerance\": -1}]",
      "tolerance" },
    { "\"claims\": [{\"configuration\": 7, \"measure\": \"dead_time\", \"relation\": \"at most\", \"value\": 1}]",
      "configuration" },
  };
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++) {
    const char *text
        = keep (fixture, g_strdup_printf ("{\"slewbench_session\": 1, \"configurations\": [], %s}", wrong[i][0]));
    g_clear_error (&fixture->error);
    fixture->other_bench = sb_session_load (write_file (fixture, "wrong.slewbench", text), &fixture->error);
    if (fixture->other_bench != NULL || strstr (fixture->error->message, wrong[i][1]) == NULL)
      fail_msg ("%s: %s", wrong[i][0], fixture->error != NULL ? fixture->error->message : "taken");
  }
}

static void
stated_figures_stay_with_their_configuration (void **state)
{
  BenchFixture *fixture = *state;
  for (int c = 0; c < 3; c++)
    sb_bench_add_configuration (fixture->bench, "one", NULL, 0);
  add_claims (fixture);
  fixture->other_bench = sb_bench_edit (fixture->bench);
  sb_bench_remove_configuration (fixture->other_bench, 0);
  assert_int_equal (sb_bench_claim (fixture->other_bench, 0)->configuration, 0);
  assert_int_equal (sb_bench_claim (fixture->bench, 0)->configuration, 1); /* an earlier bench stays as it is */
  sb_bench_remove_configuration (fixture->other_bench, 0);
  assert_int_equal (sb_bench_n_claims (fixture->other_bench), 1); /* that of the device */
  assert_string_equal (sb_bench_claim (fixture->other_bench, 0)->device, "Alder");
  sb_bench_remove_claim (fixture->other_bench, 0);
  assert_int_equal (sb_bench_n_claims (fixture->other_bench), 0);
}

/* 8 N·m in 20 ms are 0.4 N·m/ms. */
static void
stated_figures_are_checked_where_they_belong (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 20, "# device: Alder\n");
  add_configuration (fixture, "b", 40, "# device: Birch\n");
  static const struct {
    const char *text;
    guint n_sides;
    SbClaimVerdict verdict;
  } cases[] = {
    { "a: mean_torque_slope >= 0.38 N·m/ms", 1, SB_CLAIM_REACHED },
    { "b: mean_torque_slope >= 0.38 N·m/ms", 1, SB_CLAIM_NOT_REACHED },
    { "birch: mean_torque_slope >= 0.19 N·m/ms", 1, SB_CLAIM_REACHED },
    { "mean_torque_slope >= 0.38 N·m/ms", 2, SB_CLAIM_REACHED },
    { "Cedar: mean_torque_slope >= 0.19 N·m/ms", 0, SB_CLAIM_CANNOT_TELL },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    SbClaim *claim = sb_claim_parse (fixture->bench, cases[i].text, &fixture->error);
    assert_non_null (claim);
    sb_bench_add_claim (fixture->bench, claim);
    sb_claim_free (claim);
  }
  const SbAnalysis *analysis = analyse (fixture);
  assert_int_equal (analysis->claims->len, G_N_ELEMENTS (cases));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    const SbClaimResult *result = g_ptr_array_index (analysis->claims, i);
    assert_int_equal (result->sides->len, cases[i].n_sides);
    assert_int_equal (result->verdict, cases[i].verdict);
  }
  const char *table = keep (fixture, sb_results_table_text (analysis));
  assert_non_null (strstr (table, "Stated of a: Mean torque slope at least 0.38 N·m/ms: reached"));
  assert_non_null (strstr (table, "Stated of birch (device): Mean torque slope at least 0.19 N·m/ms: reached"));
  const char *methods = keep (fixture, sb_results_methods_text (analysis));
  assert_non_null (strstr (methods, "Stated figures were checked: a: Mean torque slope"));
}

static void
methods_say_nothing_of_what_was_not_judged (void **state)
{
  BenchFixture *fixture = *state;
  add_configuration (fixture, "a", 20, NULL);
  const char *methods = keep (fixture, sb_results_methods_text (analyse (fixture)));
  assert_null (strstr (methods, "audited"));
  assert_null (strstr (methods, "Stated figure"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (settings_that_differ_alone_are_audited),
    bench_test (audits_of_one_setting_on_one_device_are_told_apart),
    bench_test (named_setting_is_audited_though_more_differs),
    bench_test (nearest_configurations_are_named),
    bench_test (levels_that_are_missing_or_disagree_are_told),
    bench_test (likeness_that_is_no_chain_is_told),
    cmocka_unit_test (search_for_the_nearest_heeds_its_cancelling),
    bench_test (rigs_alike_within_one_percent_are_audited_together),
    bench_test (run_numbers_are_not_audited_unasked),
    bench_test (stated_figures_are_read_as_people_write_them),
    bench_test (wrong_figures_are_refused_with_what_is_wrong),
    bench_test (session_keeps_audits_and_stated_figures),
    bench_test (session_with_wrong_judgements_is_refused),
    bench_test (stated_figures_stay_with_their_configuration),
    bench_test (stated_figures_are_checked_where_they_belong),
    bench_test (methods_say_nothing_of_what_was_not_judged),
  };
  return cmocka_run_group_tests_name ("audits and stated figures of a bench", tests, NULL, NULL);
}
