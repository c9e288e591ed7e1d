/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts that a bench states: which logs they reach, what they change, and what the cache makes of a change. */
#include "bench_fixture.h"
#include "bench_layouts.h"
#include "cut_steps.h"
#include "history.h"
#include "layout_json.h"
#include "results.h"
#include "session.h"

/* The log of write_step() under headings that say nothing,. */
static const char *
write_unnamed (BenchFixture *fixture, const char *name, const char *headings, int delay_ms)
{
  g_autoptr (GString) text = g_string_new (headings);
  for (int i = 0; i <= 250; i++) {
    int after = MAX (0, i - 52 - delay_ms);
    g_string_append_printf (text, "%d,%d,%d.%d,%d\n", i, i >= 50 + delay_ms ? 8 : 0, MIN (4 * after, 80) / 10,
                            MIN (4 * after, 80) % 10, after);
  }
  return write_file (fixture, name, text->str);
}

#define HEADINGS "p,q,r,s\n"

/* p: time in ms; q, r, s: command, torque, velocity. */
static SbLayoutChoice *
layout_of (const char *names, const char *time_unit)
{
  static const SbRole roles[] = { SB_ROLE_TIME, SB_ROLE_COMMAND, SB_ROLE_TORQUE, SB_ROLE_VELOCITY };
  SbLayout *layout = sb_layout_new ();
  for (int i = 0; i < 4; i++) {
    const char name[] = { names[i], '\0' };
    sb_layout_add_column (layout, name)->role = roles[i];
    sb_layout_column (layout, (guint) i)->wrap = (double) NAN;
  }
  sb_layout_column (layout, 0)->unit = sb_unit_find (time_unit);
  for (guint i = 1; i < 4; i++)
    sb_layout_column (layout, i)->unit = sb_unit_find (sb_role_unit (roles[i]));
  return sb_layout_choice_new (layout, NULL, TRUE);
}

static void
state_layout (SbBench *edited, const char *names, const char *time_unit)
{
  g_autoptr (SbLayoutChoice) choice = layout_of (names, time_unit);
  assert_true (sb_bench_state_layout (edited, choice));
}

/* The bench with another layout, in the fixture's other_bench. */
static SbBench *
with_layout (BenchFixture *fixture, const char *names, const char *time_unit)
{
  g_clear_pointer (&fixture->other_bench, sb_bench_unref);
  fixture->other_bench = sb_bench_edit (fixture->bench);
  state_layout (fixture->other_bench, names, time_unit);
  return fixture->other_bench;
}

static const SbAnalysis *
analyse (BenchFixture *fixture, SbBench *bench)
{
  sb_analysis_unref (fixture->analysis);
  fixture->analysis = sb_analysis_run (bench, fixture->cache, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  if (fixture->analysis == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->analysis;
}

/* Onset of the first trial; NaN when it failed. */
static double
onset_of (BenchFixture *fixture, SbBench *bench)
{
  const SbAnalysis *analysis = analyse (fixture, bench);
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (analysis, 0), 0);
  return trial->facts != NULL ? trial->facts->onset_s : (double) NAN;
}

static void
fill_bench (BenchFixture *fixture)
{
  const char *path = write_unnamed (fixture, "a.csv", HEADINGS, 0);
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
}

/* The command jumps at 50: milliseconds, so the layout states. */
static void
stated_layout_gives_the_columns_of_a_log_their_meaning (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  assert_close (onset_of (fixture, with_layout (fixture, "pqrs", "ms")), 0.050, 1e-9);
  assert_close (onset_of (fixture, with_layout (fixture, "pqrs", "s")), 50, 1e-6);
}

static void
layout_of_another_shape_changes_nothing (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_step (fixture, "a.csv", STEP_LOG);
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
  const char *before = keep (fixture, sb_results_json (analyse (fixture, fixture->bench)));
  const char *after = keep (fixture, sb_results_json (analyse (fixture, with_layout (fixture, "pqrs", "ms"))));
  assert_string_equal (before, after); /* it shaped no number, so it is not named either */
}

static void
layout_of_one_log_alone_goes_before_that_of_its_shape (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  const char *second = write_unnamed (fixture, "b.csv", HEADINGS, 0);
  sb_bench_add_logs (fixture->bench, 0, &second, 1);
  SbBench *bench = with_layout (fixture, "pqrs", "ms");
  g_autoptr (SbLayoutChoice) own = layout_of ("pqrs", "s");
  sb_bench_state_log_layout (bench, path_in (fixture, "a.csv"), own);
  assert_close (onset_of (fixture, bench), 50, 1e-6);
  const SbConfigurationResult *result = sb_analysis_configuration (fixture->analysis, 0);
  assert_close (sb_configuration_result_trial (result, 1)->facts->onset_s, 0.050, 1e-9);
  sb_bench_state_log_layout (bench, path_in (fixture, "a.csv"), NULL);
  assert_close (onset_of (fixture, bench), 0.050, 1e-9);
}

static void
own_layout_that_the_log_cannot_have_is_told (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  g_autoptr (SbLayoutChoice) own = layout_of ("pqrz", "ms");
  sb_bench_state_log_layout (fixture->bench, path_in (fixture, "a.csv"), own);
  const SbAnalysis *analysis = analyse (fixture, fixture->bench);
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (analysis, 0), 0);
  assert_non_null (trial->failure);
  assert_non_null (strstr (trial->failure, "a.csv"));
  assert_non_null (strstr (trial->failure, "columns that it does not have"));
}

static void
earlier_layout_goes_before_a_later_one (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  SbBench *bench = with_layout (fixture, "pqrs", "ms");
  /* By name alone, which replaces no layout of a shape; the newest comes first. */
  SbLayout *layout = sb_layout_new ();
  SbLayoutColumn *column = sb_layout_add_column (layout, "P");
  column->role = SB_ROLE_TIME;
  column->unit = sb_unit_find ("s");
  g_autoptr (SbLayoutChoice) named = sb_layout_choice_new (layout, NULL, FALSE);
  assert_true (sb_bench_state_layout (bench, named));
  assert_close (onset_of (fixture, bench), 50, 1e-6);
  assert_false (sb_bench_state_layout (bench, named)); /* it is there */
  sb_bench_withdraw_layout (bench, 0);
  assert_close (onset_of (fixture, bench), 0.050, 1e-9);
}

/* Two logs of one shape, one with bars between its cells; a layout is stated for each way. */
static void
stated_dialect_is_followed_where_the_columns_then_fit (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  g_autofree char *text = NULL;
  assert_true (g_file_get_contents (path_in (fixture, "a.csv"), &text, NULL, NULL));
  const char *path = write_file (fixture, "bars.csv", g_strdelimit (text, ",", '|'));
  sb_bench_add_logs (fixture->bench, 0, &path, 1);
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.delimiter = '|';
  g_autoptr (SbLayoutChoice) seconds = layout_of ("pqrs", "s"), milliseconds = layout_of ("pqrs", "ms");
  g_autoptr (SbLayoutChoice) bars = sb_layout_choice_new (sb_layout_ref (seconds->layout), &fixed, TRUE);
  g_autoptr (SbLayoutChoice) any = sb_layout_choice_new (sb_layout_ref (milliseconds->layout), NULL, FALSE);
  assert_true (sb_bench_state_layout (fixture->bench, any));
  assert_true (sb_bench_state_layout (fixture->bench, bars));
  assert_close (onset_of (fixture, fixture->bench), 0.050, 1e-9);
  const SbConfigurationResult *result = sb_analysis_configuration (fixture->analysis, 0);
  assert_close (sb_configuration_result_trial (result, 1)->facts->onset_s, 50, 1e-6);
}

/* What a cache holds is seen by rewriting the file: a log read anew has its onset 20 ms later. */
static void
log_is_read_anew_when_a_layout_that_concerns_it_changes_and_only_then (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  state_layout (fixture->bench, "pqrs", "ms");
  assert_close (onset_of (fixture, fixture->bench), 0.050, 1e-9);
  write_unnamed (fixture, "a.csv", HEADINGS, 20);
  assert_close (onset_of (fixture, fixture->bench), 0.050, 1e-9);
  assert_close (onset_of (fixture, with_layout (fixture, "wxyz", "ms")), 0.050, 1e-9); /* of another shape */
  assert_close (onset_of (fixture, fixture->bench), 0.050, 1e-9);
  assert_close (onset_of (fixture, with_layout (fixture, "pqrs", "s")), 70, 1e-6); /* of this one */
  assert_close (onset_of (fixture, fixture->bench), 0.070, 1e-9);
}

static void
work_on_a_log_is_kept_when_layouts_of_others_change (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  fixture->cache = sb_cache_new ();
  state_layout (fixture->bench, "pqrs", "ms");
  analyse (fixture, fixture->bench);
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
  const SbTrialFacts *facts = trial->facts; /* the cache holds them too */
  analyse (fixture, with_layout (fixture, "wxyz", "ms"));
  trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
  assert_ptr_equal (trial->facts, facts);
}

static void
layouts_are_undone_and_come_back_with_the_session (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  SbBench *bench = with_layout (fixture, "pqrs", "ms");
  g_autoptr (SbLayoutChoice) own = layout_of ("pqrs", "s");
  sb_bench_state_log_layout (bench, path_in (fixture, "a.csv"), own);
  assert_null (fixture->bench->layouts); /* what undo goes back to */
  assert_null (sb_configuration_entry (sb_bench_configuration (fixture->bench, 0), 0)->layout);
  const char *path = path_in (fixture, "work.slewbench");
  assert_true (sb_session_save (bench, NULL, path, &fixture->error));
  g_autoptr (SbBench) loaded = sb_session_load (path, &fixture->error);
  assert_non_null (loaded);
  assert_int_equal (loaded->layouts->len, 1);
  assert_true (sb_layout_choice_equal (g_ptr_array_index (loaded->layouts, 0), g_ptr_array_index (bench->layouts, 0)));
  assert_true (sb_layout_choice_equal (sb_configuration_entry (sb_bench_configuration (loaded, 0), 0)->layout, own));
}

static void
session_with_a_wrong_layout_is_refused_with_the_member (void **state)
{
  BenchFixture *fixture = *state;
  static const char *const texts[] = {
    "{\"slewbench_session\": 1, \"configurations\": [], \"layouts\": [{\"delimiter\": \"comet\"}]}",
    "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [{\"file\": \"x.csv\", "
    "\"layout\": {\"delimiter\": \"comet\"}}]}]}",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++) {
    g_clear_error (&fixture->error);
    fixture->other_bench = sb_session_load (write_file (fixture, "wrong.slewbench", texts[i]), &fixture->error);
    assert_null (fixture->other_bench);
    assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ));
    assert_non_null (strstr (fixture->error->message, "delimiter"));
  }
}

static void
layout_of_a_log_stays_with_its_steps_and_with_the_joined_log (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  const char *path = path_in (fixture, "a.csv");
  g_autoptr (SbLayoutChoice) own = layout_of ("pqrs", "ms");
  sb_bench_state_log_layout (fixture->bench, path, own);
  static const SbCut cuts[] = { { 0, 0.1, NAN, NAN }, { 0.1, 0.2, NAN, NAN } };
  fixture->other_bench = sb_bench_cut_at (fixture->bench, 0, path, cuts, 2, NULL);
  const SbConfiguration *cut = sb_bench_configuration (fixture->other_bench, 0);
  assert_int_equal (cut->entries->len, 2);
  assert_ptr_equal (sb_configuration_entry (cut, 0)->layout, own);
  assert_ptr_equal (sb_configuration_entry (cut, 1)->layout, own);
  g_autoptr (SbBench) joined = sb_bench_join_steps (fixture->other_bench, 0, path);
  assert_ptr_equal (sb_configuration_entry (sb_bench_configuration (joined, 0), 0)->layout, own);
}

static void
results_name_the_layouts_that_logs_were_read_with (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  SbBench *bench = with_layout (fixture, "wxyz", "ms");
  state_layout (bench, "pqrs", "ms");
  const char *text = keep (fixture, sb_results_json (analyse (fixture, bench)));
  g_autoptr (SbLayoutChoice) used = layout_of ("pqrs", "ms"), unused = layout_of ("wxyz", "ms");
  g_autofree char *signature = sb_layout_signature (used->layout), *other = sb_layout_signature (unused->layout);
  assert_non_null (strstr (text, signature));
  assert_null (strstr (text, other));
}

static void
layouts_taken_from_elsewhere_replace_none_of_the_bench (void **state)
{
  BenchFixture *fixture = *state;
  state_layout (fixture->bench, "pqrs", "ms");
  g_autoptr (GPtrArray) remembered = sb_layout_choices_new ();
  g_ptr_array_add (remembered, layout_of ("pqrs", "s"));
  g_ptr_array_add (remembered, layout_of ("wxyz", "s"));
  sb_bench_take_layouts (fixture->bench, remembered);
  assert_int_equal (fixture->bench->layouts->len, 2);
  const SbLayoutChoice *own = g_ptr_array_index (fixture->bench->layouts, 0);
  assert_ptr_equal (sb_layout_column (own->layout, 0)->unit, sb_unit_find ("ms"));
}

static void
remembered_layouts_come_to_a_bench_with_the_logs_they_are_for (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  g_autoptr (GPtrArray) remembered = sb_layout_choices_new ();
  g_ptr_array_add (remembered, layout_of ("wxyz", "s"));
  g_ptr_array_add (remembered, layout_of ("pqrs", "ms"));
  sb_bench_take_layouts_for_logs (fixture->bench, remembered, 1, NULL); /* there is no second configuration */
  assert_null (fixture->bench->layouts);
  sb_bench_take_layouts_for_logs (fixture->bench, remembered, 0, NULL);
  assert_int_equal (fixture->bench->layouts->len, 1);
  assert_close (onset_of (fixture, fixture->bench), 0.050, 1e-9);
}

/* What was guessed and is confirmed as it stands is doubted no longer, although every number stays. */
static void
guess_that_was_confirmed_is_not_asked_about_again (void **state)
{
  BenchFixture *fixture = *state;
  fixture->cache = sb_cache_new ();
  const char *path = write_unnamed (fixture, "a.csv", "t [ms],Soll [Nm],Ist [Nm],v [rad/s]\n", 0);
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
  assert_close (onset_of (fixture, fixture->bench), 0.050, 1e-9);
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
  assert_non_null (sb_layout_column (trial->facts->layout, 2)->question);
  assert_int_equal (trial->facts->notes->len, 1);
  const char *said = "Column 'Ist [Nm]' was read by a guess (taken for the torque because its unit is N·m).";
  assert_non_null (strstr (keep (fixture, sb_results_methods_text (fixture->analysis)), said));

  g_autoptr (SbLayoutChoice) confirmed = sb_layout_choice_of_shape (trial->facts->layout, NULL);
  fixture->other_bench = sb_bench_edit (fixture->bench);
  assert_true (sb_bench_state_layout (fixture->other_bench, confirmed));
  assert_close (onset_of (fixture, fixture->other_bench), 0.050, 1e-9);
  trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
  assert_null (sb_layout_column (trial->facts->layout, 2)->question);
  assert_int_equal (trial->facts->notes->len, 0);
  assert_null (strstr (keep (fixture, sb_results_methods_text (fixture->analysis)), "guess"));
}

/* Of 2 N·m/V, first without a zero and then with 2.5 V at no torque. */
static void
methods_say_how_the_volts_of_a_transducer_became_torque (void **state)
{
  BenchFixture *fixture = *state;
  static const char sentence[] = "Column 'r' is the signal of a transducer of 2 N·m/V with 2.5 V at no torque.";
  static const char *const names[] = { "a.csv", "b.csv" };
  for (int i = 0; i < 2; i++) {
    const char *path = write_unnamed (fixture, names[i], HEADINGS, 0);
    if (i == 0)
      sb_bench_add_configuration (fixture->bench, "a", &path, 1);
    else
      sb_bench_add_logs (fixture->bench, 0, &path, 1);
  }
  g_autoptr (SbLayoutChoice) choice = layout_of ("pqrs", "ms");
  SbLayoutColumn *torque = sb_layout_column (choice->layout, 2);
  torque->unit = sb_unit_find ("V");
  torque->torque_per_volt_nm = 2;
  assert_true (sb_bench_state_layout (fixture->bench, choice));
  analyse (fixture, fixture->bench);
  const char *text = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_non_null (strstr (text, "Column 'r' is the signal of a transducer of 2 N·m/V."));
  assert_null (strstr (text, "at no torque"));

  g_autoptr (SbLayoutChoice) zeroed = sb_layout_choice_new (sb_layout_copy (choice->layout), NULL, TRUE);
  sb_layout_column (zeroed->layout, 2)->torque_zero_v = 2.5;
  fixture->other_bench = sb_bench_edit (fixture->bench);
  assert_true (sb_bench_state_layout (fixture->other_bench, zeroed));
  analyse (fixture, fixture->other_bench);
  text = keep (fixture, sb_results_methods_text (fixture->analysis));
  const char *said = strstr (text, sentence);
  assert_non_null (said);
  assert_null (strstr (said + 1, sentence)); /* once, for both logs */
}

/* p in ms; q is a command in percent of 20 N·m, r a current of 0.25 N·m/A and s an angle of 4096 counts to the turn. */
static void
methods_say_what_units_without_a_size_stand_for (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_unnamed (fixture, "a.csv", HEADINGS, 0);
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
  g_autoptr (SbLayoutChoice) choice = layout_of ("pqrs", "ms");
  SbLayoutColumn *command = sb_layout_column (choice->layout, 1), *torque = sb_layout_column (choice->layout, 2),
                 *angle = sb_layout_column (choice->layout, 3);
  command->unit = sb_unit_find ("%");
  command->full_scale = 20;
  torque->unit = sb_unit_find ("A");
  torque->torque_constant_nm_per_a = 0.25;
  angle->role = SB_ROLE_ANGLE;
  angle->unit = sb_unit_find ("counts");
  angle->counts_per_turn = 4096;
  angle->factor = -1;
  assert_true (sb_bench_state_layout (fixture->bench, choice));
  analyse (fixture, fixture->bench);
  const char *text = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_non_null (strstr (text, "Column 'q' is in percent of 20 N·m."));
  assert_non_null (strstr (text, "Column 'r' is a current; an ampere stands for 0.25 N·m, as was stated."));
  assert_non_null (strstr (text, "Column 's' counts 4096 to the turn."));
  assert_non_null (strstr (text, "The written values of column 's' were multiplied by -1, as was stated."));
}

static void
unit_that_is_stated_against_the_name_is_told (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_unnamed (fixture, "a.csv", "t_ms,command_Nm,torque_Nm,speed_rpm\n", 0);
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
  static const char *const names[] = { "t_ms", "command_Nm", "torque_Nm", "speed_rpm" };
  static const char *const units[] = { "ms", "N·m", "mN·m", "rpm" };
  static const SbRole roles[] = { SB_ROLE_TIME, SB_ROLE_COMMAND, SB_ROLE_TORQUE, SB_ROLE_VELOCITY };
  SbLayout *layout = sb_layout_new ();
  for (guint i = 0; i < 4; i++) {
    SbLayoutColumn *column = sb_layout_add_column (layout, names[i]);
    column->role = roles[i];
    column->unit = sb_unit_find (units[i]);
    column->wrap = (double) NAN;
  }
  g_autoptr (SbLayoutChoice) choice = sb_layout_choice_new (layout, NULL, TRUE);
  assert_true (sb_bench_state_layout (fixture->bench, choice));
  analyse (fixture, fixture->bench);
  const char *text = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_non_null (strstr (text, "Column 'torque_Nm' was read in mN·m, as was stated, though its name says N·m."));
  assert_null (strstr (text, "'speed_rpm'")); /* which says what was stated */
}

static const GPtrArray *
remark_facts_of (const SbAnalysis *analysis)
{
  return sb_configuration_result_trial (sb_analysis_configuration (analysis, 0), 0)->remark_facts;
}

/* 2.5 V at rest and 4 V more on a step: at 2 N·m/V, 5 N·m at rest, which is 62.5 % of the step of 8 N·m. */
static void
transducer_that_rests_far_from_zero_is_told_until_its_zero_is_stated (void **state)
{
  BenchFixture *fixture = *state;
  g_autoptr (GString) text = g_string_new (HEADINGS);
  for (int i = 0; i <= 250; i++)
    g_string_append_printf (text, "%d,%d,%.2f,%d\n", i, i >= 50 ? 8 : 0, 2.5 + 0.2 * CLAMP (i - 52, 0, 20),
                            MAX (i - 52, 0));
  const char *path = write_file (fixture, "a.csv", text->str);
  sb_bench_add_configuration (fixture->bench, "a", &path, 1);
  g_autoptr (SbLayoutChoice) choice = layout_of ("pqrs", "ms");
  SbLayoutColumn *torque = sb_layout_column (choice->layout, 2);
  torque->unit = sb_unit_find ("V");
  torque->torque_per_volt_nm = 2;
  assert_true (sb_bench_state_layout (fixture->bench, choice));
  analyse (fixture, fixture->bench);
  const GPtrArray *facts = remark_facts_of (fixture->analysis);
  assert_non_null (facts);
  assert_non_null (strstr (g_ptr_array_index (facts, 0), "rests at 5 N·m before the step, which is 2.5 V"));
  assert_non_null (strstr (g_ptr_array_index (facts, 0), "62 % of the step"));

  g_autoptr (SbLayoutChoice) zeroed = sb_layout_choice_new (sb_layout_copy (choice->layout), NULL, TRUE);
  sb_layout_column (zeroed->layout, 2)->torque_zero_v = 2.5;
  fixture->other_bench = sb_bench_edit (fixture->bench);
  assert_true (sb_bench_state_layout (fixture->other_bench, zeroed));
  analyse (fixture, fixture->other_bench);
  assert_null (remark_facts_of (fixture->analysis));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (stated_layout_gives_the_columns_of_a_log_their_meaning),
    bench_test (layout_of_another_shape_changes_nothing),
    bench_test (layout_of_one_log_alone_goes_before_that_of_its_shape),
    bench_test (own_layout_that_the_log_cannot_have_is_told),
    bench_test (earlier_layout_goes_before_a_later_one),
    bench_test (stated_dialect_is_followed_where_the_columns_then_fit),
    bench_test (log_is_read_anew_when_a_layout_that_concerns_it_changes_and_only_then),
    bench_test (work_on_a_log_is_kept_when_layouts_of_others_change),
    bench_test (layouts_are_undone_and_come_back_with_the_session),
    bench_test (session_with_a_wrong_layout_is_refused_with_the_member),
    bench_test (layout_of_a_log_stays_with_its_steps_and_with_the_joined_log),
    bench_test (results_name_the_layouts_that_logs_were_read_with),
    bench_test (remembered_layouts_come_to_a_bench_with_the_logs_they_are_for),
    bench_test (guess_that_was_confirmed_is_not_asked_about_again),
    bench_test (methods_say_how_the_volts_of_a_transducer_became_torque),
    bench_test (methods_say_what_units_without_a_size_stand_for),
    bench_test (unit_that_is_stated_against_the_name_is_told),
    bench_test (transducer_that_rests_far_from_zero_is_told_until_its_zero_is_stated),
    bench_test (layouts_taken_from_elsewhere_replace_none_of_the_bench),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
