/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_fixture.h"

static const char *const three[] = { "/logs/a.csv", "/logs/b.csv", "/logs/c.csv" };

static void
new_bench_is_empty_with_the_stated_defaults (void **state)
{
  /* Defaults as in the table of docs/session-file.md. */
  const SbBench *bench = ((BenchFixture *) *state)->bench;
  assert_true (sb_bench_is_empty (bench));
  assert_int_equal (bench->reference, -1);
  assert_int_equal (bench->other, -1);
  assert_close (bench->measure.smoothing_s, 0, 0);
  assert_close (bench->measure.slope_window_s, 0, 0);
  assert_close (bench->measure.settling_band_ratio, 0.02, 0);
  assert_close (bench->measure.smoothness_cutoff_hz, 0, 0);
  assert_int_equal (bench->band, SB_BAND_SD);
  assert_close (bench->band_k, 1, 0);
  assert_int_equal (bench->span, SB_SPAN_COMMON);
  assert_close (bench->moving_window_s, 0.05, 0);
  assert_close (bench->margin_ratio, 0.05, 0);
}

static void
first_two_configurations_become_reference_and_other (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  for (guint i = 0; i < 3; i++)
    assert_int_equal (sb_bench_add_configuration (bench, "slow", three, 3), i);
  assert_int_equal (bench->reference, 0);
  assert_int_equal (bench->other, 1);
}

static void
name_already_there_gets_a_number (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  for (int i = 0; i < 3; i++)
    sb_bench_add_configuration (bench, "slow", NULL, 0);
  assert_string_equal (sb_bench_configuration (bench, 0)->name, "slow");
  assert_string_equal (sb_bench_configuration (bench, 1)->name, "slow (2)");
  assert_string_equal (sb_bench_configuration (bench, 2)->name, "slow (3)");
}

static void
name_is_always_text (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  sb_bench_add_configuration (bench, "bad\xff", NULL, 0);
  assert_true (g_utf8_validate (sb_bench_configuration (bench, 0)->name, -1, NULL));
  assert_true (g_str_has_prefix (sb_bench_configuration (bench, 0)->name, "bad"));
}

static void
new_configuration_takes_the_first_free_style (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  for (int i = 0; i < 3; i++)
    sb_bench_add_configuration (bench, "a", NULL, 0);
  sb_bench_remove_configuration (bench, 1);
  assert_int_equal (sb_bench_configuration (bench, 0)->style, 0);
  assert_int_equal (sb_bench_configuration (bench, 1)->style, 2); /* colours stay with their curves */
  guint added = sb_bench_add_configuration (bench, "b", NULL, 0);
  assert_int_equal (sb_bench_configuration (bench, added)->style, 1);
}

static void
log_is_in_a_configuration_once (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  sb_bench_add_configuration (bench, "a", three, 3);
  sb_bench_add_logs (bench, 0, (const char *const[]){ "/logs/b.csv", "/logs/d.csv", "/logs/d.csv" }, 3);
  const SbConfiguration *configuration = sb_bench_configuration (bench, 0);
  assert_int_equal (configuration->entries->len, 4);
  assert_string_equal (sb_configuration_entry (configuration, 3)->path, "/logs/d.csv");
  assert_true (sb_configuration_entry (configuration, 3)->included);
  assert_close (sb_configuration_entry (configuration, 3)->choices.onset_s, NAN, 0);
}

static void
edit_leaves_the_edited_bench_as_it_was (void **state)
{
  BenchFixture *fixture = *state;
  SbBench *before = fixture->bench;
  sb_bench_add_configuration (before, "a", three, 3);
  sb_bench_add_configuration (before, "b", three, 2);
  SbBench *after = fixture->other_bench = sb_bench_edit (before);
  SbConfiguration *own = sb_bench_edit_configuration (after, 0);
  SbTrialEntry *entry = sb_configuration_entry (own, 1);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("rim touched");
  entry->choices.onset_s = 0.5;
  g_free (own->name);
  own->name = g_strdup ("renamed");
  g_free (after->chart.title);
  after->chart.title = g_strdup ("new title");
  after->band_k = 3;

  const SbTrialEntry *old = sb_configuration_entry (sb_bench_configuration (before, 0), 1);
  assert_true (old->included);
  assert_null (old->exclusion_reason);
  assert_close (old->choices.onset_s, NAN, 0);
  assert_string_equal (sb_bench_configuration (before, 0)->name, "a");
  assert_string_equal (before->chart.title, "");
  assert_close (before->band_k, 1, 0);
}

static void
edit_shares_what_it_does_not_touch (void **state)
{
  BenchFixture *fixture = *state;
  sb_bench_add_configuration (fixture->bench, "a", three, 3);
  sb_bench_add_configuration (fixture->bench, "b", three, 2);
  SbBench *after = fixture->other_bench = sb_bench_edit (fixture->bench);
  SbConfiguration *own = sb_bench_edit_configuration (after, 0);
  assert_ptr_not_equal (own, sb_bench_configuration (fixture->bench, 0));
  assert_ptr_equal (sb_bench_edit_configuration (after, 0), own); /* its own already */
  assert_ptr_equal (sb_bench_configuration (after, 1), sb_bench_configuration (fixture->bench, 1));
  /* Paths are shared too: a step of undo on a large bench costs no copies of names. */
  assert_ptr_equal (sb_configuration_entry (own, 0)->path,
                    sb_configuration_entry (sb_bench_configuration (fixture->bench, 0), 0)->path);
}

static void
adding_logs_to_an_edit_leaves_the_shared_configuration_alone (void **state)
{
  BenchFixture *fixture = *state;
  sb_bench_add_configuration (fixture->bench, "a", three, 2);
  fixture->other_bench = sb_bench_edit (fixture->bench);
  sb_bench_add_logs (fixture->other_bench, 0, three + 2, 1);
  assert_int_equal (sb_bench_configuration (fixture->bench, 0)->entries->len, 2);
  assert_int_equal (sb_bench_configuration (fixture->other_bench, 0)->entries->len, 3);
}

static void
roles_follow_the_configurations_that_stay (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  for (int i = 0; i < 3; i++)
    sb_bench_add_configuration (bench, "a", NULL, 0);
  bench->reference = 1;
  bench->other = 2;
  sb_bench_remove_configuration (bench, 0);
  assert_int_equal (bench->reference, 0);
  assert_int_equal (bench->other, 1);
  sb_bench_remove_configuration (bench, 0);
  assert_int_equal (bench->reference, -1);
  assert_int_equal (bench->other, 0);
  sb_bench_remove_configuration (bench, 0);
  assert_int_equal (bench->other, -1);
  assert_true (sb_bench_is_empty (bench));
}

static void
moved_trial_takes_its_choices_with_it (void **state)
{
  BenchFixture *fixture = *state;
  sb_bench_add_configuration (fixture->bench, "a", three, 3);
  sb_bench_add_configuration (fixture->bench, "b", (const char *const[]){ "/logs/z.csv" }, 1);
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 1);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("brake on");
  entry->choices.active_end_s = 0.75;
  SbBench *edited = fixture->other_bench = sb_bench_edit (fixture->bench);
  sb_bench_move_trial (edited, 0, 1, 1);

  const SbConfiguration *from = sb_bench_configuration (edited, 0), *to = sb_bench_configuration (edited, 1);
  assert_int_equal (from->entries->len, 2);
  assert_string_equal (sb_configuration_entry (from, 1)->path, "/logs/c.csv");
  assert_int_equal (to->entries->len, 2);
  const SbTrialEntry *moved = sb_configuration_entry (to, 1);
  assert_string_equal (moved->path, "/logs/b.csv");
  assert_false (moved->included);
  assert_string_equal (moved->exclusion_reason, "brake on");
  assert_close (moved->choices.active_end_s, 0.75, 0);
  /* The bench before still has it where it was. */
  assert_int_equal (sb_bench_configuration (fixture->bench, 0)->entries->len, 3);
  assert_string_equal (sb_configuration_entry (sb_bench_configuration (fixture->bench, 0), 1)->exclusion_reason,
                       "brake on");
}

static void
trial_moved_to_where_its_log_is_already_stays_single (void **state)
{
  /* A configuration has a log once, whatever way it came in: twice would count one repeat as two. */
  SbBench *bench = ((BenchFixture *) *state)->bench;
  sb_bench_add_configuration (bench, "a", three, 3);
  sb_bench_add_configuration (bench, "b", three, 1);
  sb_bench_move_trial (bench, 0, 0, 1);
  assert_int_equal (sb_bench_configuration (bench, 0)->entries->len, 2);
  assert_int_equal (sb_bench_configuration (bench, 1)->entries->len, 1);
}

static void
panels_come_from_top_to_bottom (void **state)
{
  SbBench *bench = ((BenchFixture *) *state)->bench;
  SbPanel panels[SB_N_PANELS];
  bench->chart.panels = 1u << SB_PANEL_COMMAND | 1u << SB_PANEL_VELOCITY;
  assert_int_equal (sb_bench_panels (bench, panels), 2);
  assert_int_equal (panels[0], SB_PANEL_VELOCITY);
  assert_int_equal (panels[1], SB_PANEL_COMMAND);
  assert_int_equal (sb_panel_channel (SB_PANEL_ANGLE), SB_CHANNEL_ANGLE);
  assert_int_equal (sb_panel_channel (SB_PANEL_COMMAND), SB_CHANNEL_COMMAND);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (new_bench_is_empty_with_the_stated_defaults),
    bench_test (first_two_configurations_become_reference_and_other),
    bench_test (name_already_there_gets_a_number),
    bench_test (name_is_always_text),
    bench_test (new_configuration_takes_the_first_free_style),
    bench_test (log_is_in_a_configuration_once),
    bench_test (edit_leaves_the_edited_bench_as_it_was),
    bench_test (edit_shares_what_it_does_not_touch),
    bench_test (adding_logs_to_an_edit_leaves_the_shared_configuration_alone),
    bench_test (roles_follow_the_configurations_that_stay),
    bench_test (moved_trial_takes_its_choices_with_it),
    bench_test (trial_moved_to_where_its_log_is_already_stays_single),
    bench_test (panels_come_from_top_to_bottom),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
