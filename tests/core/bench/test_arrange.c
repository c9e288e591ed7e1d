/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Configurations put in order, merged, split and copied. Expected values are counted by hand from the names that each
 * test gives. */
#include "arrange.h"
#include "bench_claims.h"
#include "bench_fixture.h"

/* Configurations a, b, c, d with trials a1 a2 a3, b1, none, d1; a is the reference, c the other. */
static void
fill (BenchFixture *fixture)
{
  static const char *const a[] = { "/a1", "/a2", "/a3" }, *const b[] = { "/b1" }, *const d[] = { "/d1" };
  sb_bench_add_configuration (fixture->bench, "a", a, 3);
  sb_bench_add_configuration (fixture->bench, "b", b, 1);
  sb_bench_add_configuration (fixture->bench, "c", NULL, 0);
  sb_bench_add_configuration (fixture->bench, "d", d, 1);
  fixture->bench->reference = 0;
  fixture->bench->other = 2;
}

/* "a: /a1 /a2; b: /b1", with * behind the reference and + behind the other. */
static char *
written (const SbBench *bench)
{
  GString *text = g_string_new (NULL);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    g_string_append_printf (text, "%s%s%s%s:", c > 0 ? "; " : "", configuration->name,
                            bench->reference == (int) c ? "*" : "", bench->other == (int) c ? "+" : "");
    for (guint t = 0; t < configuration->entries->len; t++)
      g_string_append_printf (text, " %s", sb_configuration_entry (configuration, t)->path);
  }
  return g_string_free (text, FALSE);
}

static void
assert_written (BenchFixture *fixture, const char *expected)
{
  assert_string_equal (keep (fixture, written (fixture->bench)), expected);
}

static void
claim_of (BenchFixture *fixture, const char *text)
{
  SbClaim *claim = sb_claim_parse (fixture->bench, text, NULL);
  assert_non_null (claim);
  sb_bench_add_claim (fixture->bench, claim);
  sb_claim_free (claim);
}

static void
order_changes_and_roles_and_claims_follow (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  claim_of (fixture, "d: peak_torque >= 1 N·m");
  claim_of (fixture, "a: peak_torque >= 1 N·m");
  sb_bench_reorder (fixture->bench, 3, 0);
  assert_written (fixture, "d: /d1; a*: /a1 /a2 /a3; b: /b1; c+:");
  assert_int_equal (sb_bench_claim (fixture->bench, 0)->configuration, 0);
  assert_int_equal (sb_bench_claim (fixture->bench, 1)->configuration, 1);
  sb_bench_reorder (fixture->bench, 1, 3);
  assert_written (fixture, "d: /d1; b: /b1; c+:; a*: /a1 /a2 /a3");
  assert_int_equal (sb_bench_claim (fixture->bench, 1)->configuration, 3);
  sb_bench_reorder (fixture->bench, 2, 2);
  assert_written (fixture, "d: /d1; b: /b1; c+:; a*: /a1 /a2 /a3");
}

static void
chosen_trials_move_in_their_order (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  const guint trials[] = { 0, 2 };
  sb_bench_move_trials (fixture->bench, 0, trials, 2, 1);
  assert_written (fixture, "a*: /a2; b: /b1 /a1 /a3; c+:; d: /d1");
}

static void
merged_configuration_hands_on_its_trials_role_folder_and_claims (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  claim_of (fixture, "a: peak_torque >= 1 N·m");
  sb_bench_set_folder (fixture->bench, 0, "/x/a", "/x");
  sb_bench_merge (fixture->bench, 0, 3);
  assert_written (fixture, "b: /b1; c+:; d*: /d1 /a1 /a2 /a3");
  assert_int_equal (sb_bench_claim (fixture->bench, 0)->configuration, 2);
  assert_string_equal (sb_bench_configuration (fixture->bench, 2)->folder, "/x/a");
  sb_bench_merge (fixture->bench, 2, 1); /* it is the other already, and cannot be both */
  assert_written (fixture, "b: /b1; c+: /d1 /a1 /a2 /a3");
}

static void
split_trials_stand_behind_their_configuration (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  const guint trials[] = { 1, 2 };
  assert_int_equal (sb_bench_split (fixture->bench, 0, trials, 2), 1);
  assert_written (fixture, "a*: /a1; a (2): /a2 /a3; b: /b1; c+:; d: /d1");
}

static void
duplicate_has_the_same_trials_and_callouts_and_no_folder (void **state)
{
  BenchFixture *fixture = *state;
  fill (fixture);
  sb_bench_set_folder (fixture->bench, 0, "/x/a", "/x");
  sb_configuration_entry (sb_bench_configuration (fixture->bench, 0), 1)->included = FALSE;
  SbCallout callout = { .panel = SB_PANEL_TORQUE, .time_s = 0.02, .text = g_ref_string_new ("here") };
  g_array_append_val (sb_bench_edit_configuration (fixture->bench, 0)->callouts, callout);
  sb_bench_edit_configuration (fixture->bench, 0)->point[0].is_put = TRUE; /* the bench has one first point */
  assert_int_equal (sb_bench_duplicate (fixture->bench, 0), 1);
  assert_false (sb_bench_configuration (fixture->bench, 1)->point[0].is_put);
  const GArray *callouts = sb_bench_configuration (fixture->bench, 1)->callouts;
  assert_int_equal (callouts->len, 1);
  assert_string_equal (g_array_index (callouts, SbCallout, 0).text, "here");
  assert_written (fixture, "a*: /a1 /a2 /a3; a (2): /a1 /a2 /a3; b: /b1; c+:; d: /d1");
  assert_null (sb_bench_configuration (fixture->bench, 1)->folder);
  assert_false (sb_configuration_entry (sb_bench_configuration (fixture->bench, 1), 1)->included);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (order_changes_and_roles_and_claims_follow),
    bench_test (chosen_trials_move_in_their_order),
    bench_test (merged_configuration_hands_on_its_trials_role_folder_and_claims),
    bench_test (split_trials_stand_behind_their_configuration),
    bench_test (duplicate_has_the_same_trials_and_callouts_and_no_folder),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
