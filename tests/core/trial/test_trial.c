/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_fixture.h"

#define N 600

/* Which columns a log has. */
typedef enum {
  WITH_COMMAND = 1 << 0,
  WITH_TORQUE = 1 << 1,
  WITH_VELOCITY = 1 << 2,
  WITH_ANGLE = 1 << 3,
} Columns;

/* Half a second at 1 ms: the command jumps at 0.1 s to `sign` * 8 N·m and back at 0.4 s; the torque ramps from 0.102 s
 * to 0.122 s; velocity and angle are those of a constant acceleration of 20 rad/s² from 0.102 s on. */
static void
write_rows (TrialFixture *fixture, Columns columns, int sign)
{
  for (int i = 0; i < N; i++) {
    double t = i / 1000.0, tau = fmax (0, t - 0.102);
    add_number (fixture, t, ',');
    if (columns & WITH_COMMAND)
      add_number (fixture, i >= 100 && i < 400 ? sign * 8 : 0, ',');
    if (columns & WITH_TORQUE)
      add_number (fixture, sign * 8 * CLAMP (tau / 0.02, 0, 1), ',');
    if (columns & WITH_VELOCITY)
      add_number (fixture, sign * 20 * tau, ',');
    if (columns & WITH_ANGLE)
      add_number (fixture, sign * 10 * tau * tau, ',');
    fixture->text->str[fixture->text->len - 1] = '\n';
  }
}

static void
write_log (TrialFixture *fixture, Columns columns, int sign)
{
  g_string_append (fixture->text, "time_s");
  if (columns & WITH_COMMAND)
    g_string_append (fixture->text, ",command_Nm");
  if (columns & WITH_TORQUE)
    g_string_append (fixture->text, ",torque_Nm");
  if (columns & WITH_VELOCITY)
    g_string_append (fixture->text, ",velocity_rad_s");
  if (columns & WITH_ANGLE)
    g_string_append (fixture->text, ",angle_rad");
  g_string_append_c (fixture->text, '\n');
  write_rows (fixture, columns, sign);
}

static void
command_gives_onset_levels_and_window (void **state)
{
  write_log (*state, WITH_COMMAND | WITH_TORQUE | WITH_VELOCITY, 1);
  const SbTrial *trial = make_trial (*state, NULL);
  assert_int_equal (trial->onset_from, SB_ONSET_FROM_COMMAND);
  assert_close (trial->onset_s, 0.1, 0);
  assert_close (trial->command_base_nm, 0, 0);
  assert_close (trial->command_top_nm, 8, 0);
  assert_close (trial->active_end_s, 0.399, 0); /* the last sample of the level */
  assert_int_equal (trial->active_first, 100);
  assert_int_equal (trial->active_last, 399);
  assert_close (trial->sample_interval_s, 0.001, 0);
  assert_false (trial->mirrored);
  assert_int_equal (trial->notes->len, 0);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    assert_false (trial->derived[c]);
  assert_null (trial->signal[SB_CHANNEL_ANGLE]);
}

static void
step_down_is_mirrored_and_gets_the_same_numbers (void **state)
{
  TrialFixture *fixture = *state;
  const Columns all = WITH_COMMAND | WITH_TORQUE | WITH_VELOCITY | WITH_ANGLE;
  write_log (fixture, all, 1);
  make_trial (fixture, NULL);
  SbTrial *up = fixture->other = g_steal_pointer (&fixture->trial);
  g_string_truncate (fixture->text, 0);
  write_log (fixture, all, -1);
  const SbTrial *down = make_trial (fixture, NULL);
  assert_true (down->mirrored);
  assert_false (up->mirrored);
  assert_close (down->onset_s, up->onset_s, 0);
  assert_close (down->active_end_s, up->active_end_s, 0);
  assert_close (down->command_base_nm, up->command_base_nm, 0);
  assert_close (down->command_top_nm, up->command_top_nm, 0);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    for (gsize i = 0; i < N; i++)
      assert_close (down->signal[c][i], up->signal[c][i], 0);
}

static void
mirrored_trial_leaves_its_log_alone (void **state)
{
  TrialFixture *fixture = *state;
  write_log (fixture, WITH_COMMAND | WITH_TORQUE, -1);
  make_trial (fixture, NULL);
  assert_close (fixture->log->channel[SB_CHANNEL_TORQUE][300], -8, 0);
  assert_close (fixture->trial->signal[SB_CHANNEL_TORQUE][300], 8, 0);
}

/* Samples at 1 kHz of which the last before the jump is 0.4 ms early, or late, or lost: the jump lies somewhere in what
 * is left between them, which a time that is off makes no shorter. */
static void
jump_lies_in_its_own_interval (void **state)
{
  static const struct {
    double before_s, late_s;
  } cases[] = { { 0.199, 1e-3 }, { 0.1986, 1.4e-3 }, { 0.1994, 1e-3 }, { 0.1982, 1.8e-3 } };
  TrialFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    g_string_assign (fixture->text, "time_s,command_Nm,torque_Nm\n");
    for (int i = 0; i < N; i++) {
      add_number (fixture, i == 199 ? cases[c].before_s : i / 1000.0, ',');
      add_number (fixture, i < 200 ? 0 : 8, ',');
      add_number (fixture, 8 * CLAMP ((i / 1000.0 - 0.202) / 0.02, 0, 1), '\n');
    }
    const SbTrial *trial = make_trial (fixture, NULL);
    assert_close (trial->onset_s, 0.2, 1e-12);
    assert_close (trial->onset_late_s, cases[c].late_s, 1e-9);
  }
}

static void
constant_command_falls_back_to_torque_and_says_so (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < N; i++) {
    add_number (fixture, i / 1000.0, ',');
    g_string_append (fixture->text, "8,");
    add_number (fixture, 8 * CLAMP ((i / 1000.0 - 0.2) / 0.02, 0, 1), '\n');
  }
  const SbTrial *trial = make_trial (fixture, NULL);
  assert_int_equal (trial->onset_from, SB_ONSET_FROM_TORQUE);
  assert_close (trial->onset_s, 0.2, 1e-12);
  assert_close (trial->command_top_nm, NAN, 0);
  assert_true (has_note (trial, "command does not step"));
}

static void
torque_alone_gives_the_start_of_its_ramp (void **state)
{
  write_log (*state, WITH_TORQUE, 1);
  const SbTrial *trial = make_trial (*state, NULL);
  assert_int_equal (trial->onset_from, SB_ONSET_FROM_TORQUE);
  assert_close (trial->onset_s, 0.102, 1e-12);
  assert_close (trial->active_end_s, 0.599, 0);
  assert_close (trial->command_base_nm, NAN, 0);
}

static void
velocity_alone_gives_the_start_of_its_line (void **state)
{
  write_log (*state, WITH_VELOCITY, -1);
  const SbTrial *trial = make_trial (*state, NULL);
  assert_int_equal (trial->onset_from, SB_ONSET_FROM_VELOCITY);
  assert_close (trial->onset_s, 0.102, 1e-12);
  assert_true (trial->mirrored);
}

static void
log_without_a_step_says_what_to_do (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < 50; i++)
    g_string_append_printf (fixture->text, "0.%03d,0,0\n", i);
  const char *message = trial_error (fixture, NULL, SB_TRIAL_ERROR_NO_STEP);
  assert_non_null (strstr (message, "run.csv"));
  assert_non_null (strstr (message, "no step"));
  assert_non_null (strstr (message, "by hand"));
}

static void
log_without_a_step_serves_with_an_onset_by_hand (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,torque_Nm\n");
  for (int i = 0; i < 50; i++)
    g_string_append_printf (fixture->text, "0.%03d,2\n", i);
  const SbTrial *trial = make_trial (fixture, &SB_TRIAL_CHOICES_BY_HAND (0.0105, NAN));
  assert_int_equal (trial->onset_from, SB_ONSET_BY_HAND);
  assert_int_equal (trial->active_first, 11);
  assert_int_equal (trial->active_last, 49);
}

static void
hand_wins_over_command_and_keeps_its_window (void **state)
{
  write_log (*state, WITH_COMMAND | WITH_TORQUE, 1);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (0.1203, 0.2508);
  const SbTrial *trial = make_trial (*state, &choices);
  assert_int_equal (trial->onset_from, SB_ONSET_BY_HAND);
  assert_close (trial->onset_s, 0.1203, 0);
  assert_close (trial->active_end_s, 0.2508, 0);
  assert_int_equal (trial->active_first, 121); /* first at or after */
  assert_int_equal (trial->active_last, 250);  /* last at or before */
  assert_close (trial->command_top_nm, 8, 0);
}

static void
window_by_hand_ends_with_the_log_at_the_latest (void **state)
{
  write_log (*state, WITH_COMMAND | WITH_TORQUE, 1);
  const SbTrial *trial = make_trial (*state, &SB_TRIAL_CHOICES_BY_HAND (NAN, 99));
  assert_close (trial->active_end_s, 0.599, 0);
  assert_int_equal (trial->active_last, N - 1);
  assert_int_equal (trial->onset_from, SB_ONSET_FROM_COMMAND);
}

static void
sample_at_the_window_edge_belongs_to_it (void **state)
{
  write_log (*state, WITH_COMMAND | WITH_TORQUE, 1);
  const SbTrial *trial = make_trial (*state, &SB_TRIAL_CHOICES_BY_HAND (0.12, 0.25));
  assert_int_equal (trial->active_first, 120);
  assert_int_equal (trial->active_last, 250);
}

static void
steps_after_the_first_are_told_of (void **state)
{
  TrialFixture *fixture = *state;
  static const int level_of_tenth[] = { 0, 8, 0, 8, 0, -8 };
  g_string_append (fixture->text, "time_s,command_Nm\n");
  for (int i = 0; i < 600; i++)
    g_string_append_printf (fixture->text, "0.%03d,%d\n", i, level_of_tenth[i / 100]);
  const SbTrial *trial = make_trial (fixture, NULL);
  assert_close (trial->onset_s, 0.1, 0);
  assert_int_equal (trial->notes->len, 1);
  assert_non_null (strstr (sb_notes_text (trial->notes, 0), "the command steps 2 times more"));
}

/* An onset at the second of two steps takes levels, direction and end from that one. */
static void
onset_by_hand_chooses_the_step_next_to_it (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm\n");
  for (int i = 0; i < 500; i++)
    g_string_append_printf (fixture->text, "0.%03d,%d\n", i, i / 100 == 1 ? 8 : (i / 100 == 3 ? -5 : 0));
  const SbTrial *trial = make_trial (fixture, &SB_TRIAL_CHOICES_BY_HAND (0.303, NAN));
  assert_close (trial->onset_s, 0.303, 0);
  assert_true (trial->mirrored);
  assert_close (trial->command_top_nm, 5, 0);
  assert_close (trial->active_end_s, 0.399, 0);
}

/* The third of four pulses alone: from the middle of the rest before it, as the log has it. */
static void
stretch_of_a_log_is_a_trial_of_its_own (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < 900; i++)
    g_string_append_printf (fixture->text, "0.%03d,%d,%d\n", i, i / 100 % 2 == 1 ? -8 : 0, i / 100 % 2 == 1 ? -7 : 0);
  SbTrialChoices choices = SB_TRIAL_CHOICES_NONE;
  choices.from_s = 0.45;
  choices.to_s = 0.599;
  const SbTrial *trial = make_trial (fixture, &choices);
  assert_int_equal (trial->n_samples, 150);
  assert_close (trial->time_s[0], 0.45, 0);
  assert_close (trial->onset_s, 0.5, 0);
  assert_close (trial->active_end_s, 0.599, 0);
  assert_true (trial->mirrored);
  assert_close (trial->command_top_nm, 8, 0);
  assert_close (trial->signal[SB_CHANNEL_TORQUE][0], 0, 0);
  assert_close (trial->signal[SB_CHANNEL_TORQUE][149], 7, 0);
  assert_int_equal (trial->steps->len, 1);
  assert_int_equal (trial->notes->len, 0);
}

static void
stretch_without_rows_is_refused (void **state)
{
  write_log (*state, WITH_COMMAND, 1);
  SbTrialChoices choices = SB_TRIAL_CHOICES_NONE;
  choices.from_s = 17;
  const char *message = trial_error (*state, &choices, SB_TRIAL_ERROR_TOO_SHORT);
  assert_non_null (strstr (message, "from 17 s to "));
  assert_non_null (strstr (message, "Cut the log elsewhere"));
}

static void
command_that_goes_back_to_its_base_steps_once (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm\n");
  for (int i = 0; i < 600; i++)
    g_string_append_printf (fixture->text, "0.%03d,%d\n", i, i >= 100 && i < 400 ? 8 : 0);
  assert_int_equal (make_trial (fixture, NULL)->notes->len, 0);
}

static void
too_few_rows_are_refused (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm\n0,0\n1,0\n2,8\n3,8\n4,8\n5,8\n6,8\n");
  const char *message = trial_error (fixture, NULL, SB_TRIAL_ERROR_TOO_SHORT);
  assert_non_null (strstr (message, "run.csv"));
  assert_non_null (strstr (message, "too few usable rows for a step test: 7"));
}

static void
window_with_too_few_samples_is_refused (void **state)
{
  /* From 0.395 s to the end of the level at 0.399 s there are five samples. */
  write_log (*state, WITH_COMMAND | WITH_TORQUE, 1);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (0.395, NAN);
  const char *message = trial_error (*state, &choices, SB_TRIAL_ERROR_TOO_SHORT);
  assert_non_null (strstr (message, "0.399 s: 5; at least 8"));
}

static void
onset_after_the_end_of_the_log_is_refused (void **state)
{
  write_log (*state, WITH_COMMAND | WITH_TORQUE, 1);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (7, NAN);
  const char *message = trial_error (*state, &choices, SB_TRIAL_ERROR_TOO_SHORT);
  assert_non_null (strstr (message, "0.399 s: 0; at least 8"));
}

/* An average with another log would span all the time between. */
static void
onset_long_before_the_log_is_refused (void **state)
{
  write_log (*state, WITH_COMMAND | WITH_TORQUE, 1);
  SbTrialChoices choices = SB_TRIAL_CHOICES_BY_HAND (-9e15, NAN);
  const char *message = trial_error (*state, &choices, SB_TRIAL_ERROR_TOO_SHORT);
  assert_non_null (strstr (message, "lies before the log, which goes from 0 s to"));
}

static void
gap_in_the_rows_is_listed (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm\n");
  for (int i = 0; i < 100; i++)
    if (i < 60 || i >= 70)
      g_string_append_printf (fixture->text, "0.%03d,%d\n", i, i < 20 ? 0 : 5);
  const SbTrial *trial = make_trial (fixture, NULL);
  assert_int_equal (trial->gaps->len, 1);
  SbGap gap = g_array_index (trial->gaps, SbGap, 0);
  assert_close (gap.start_s, 0.059, 0);
  assert_close (gap.end_s, 0.07, 0);
  assert_close (trial->sample_interval_s, 0.001, 0);
}

static void
velocity_is_derived_from_the_angle (void **state)
{
  /* A quadratic angle has a velocity that a local quadratic gives exactly, away from where the motion begins. */
  write_log (*state, WITH_COMMAND | WITH_ANGLE, 1);
  const SbTrial *trial = make_trial (*state, NULL);
  assert_true (trial->derived[SB_CHANNEL_VELOCITY]);
  assert_false (trial->derived[SB_CHANNEL_ANGLE]);
  assert_true (has_note (trial, "velocity is derived"));
  assert_null (trial->signal[SB_CHANNEL_TORQUE]); /* no inertia is stated */
  for (gsize i = 104; i < N; i++)
    assert_close (trial->signal[SB_CHANNEL_VELOCITY][i], 20 * (trial->time_s[i] - 0.102), 1e-9);
}

static void
torque_is_derived_from_the_velocity_and_the_stated_inertia (void **state)
{
  /* 0.05 kg·m² at 20 rad/s² take 1 N·m. */
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "# inertia_kg_m2: 0.05\n");
  write_log (fixture, WITH_COMMAND | WITH_VELOCITY, -1);
  const SbTrial *trial = make_trial (fixture, NULL);
  assert_true (trial->derived[SB_CHANNEL_TORQUE]);
  assert_true (has_note (trial, "torque is derived"));
  for (gsize i = 0; i < 100; i++)
    assert_close (trial->signal[SB_CHANNEL_TORQUE][i], 0, 1e-12);
  for (gsize i = 104; i < N; i++)
    assert_close (trial->signal[SB_CHANNEL_TORQUE][i], 1, 1e-9);
}

/* What the logger itself worked out is no measurement, and every figure of it says so. */
static void
estimated_torque_is_marked_as_derived (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm,torque_est_Nm\n");
  write_rows (fixture, WITH_COMMAND | WITH_TORQUE, 1);
  const SbTrial *trial = make_trial (fixture, NULL);
  assert_true (trial->derived[SB_CHANNEL_TORQUE]);
  assert_true (has_note (trial, "estimated and not measured, by the name of its column 'torque_est_Nm'"));
}

/* 1000 rows per second stamped up to 0.45 ms early or late, two in a hundred of them as early as the row before and so
 * left out: the rate is what was sampled, whatever the median of the intervals. */
static void
rate_of_jittering_times_is_rows_over_time (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "time_s,command_Nm,torque_Nm\n");
  double before_ms = -1;
  for (int i = 0; i < N; i++) {
    double t_ms = i % 50 == 30 ? before_ms : i + 0.009 * ((i * i * 37) % 101 - 50);
    before_ms = t_ms;
    g_string_append_printf (fixture->text, "%.6f,%d,%d\n", t_ms / 1e3, i > 100 ? 8 : 0, i > 105 ? 8 : 0);
  }
  make_trial (fixture, NULL);
  SbTrialFacts *facts = fixture->facts = sb_trial_facts_new (fixture->trial);
  assert_int_equal (facts->n_rows_left_out, N / 50);
  assert_true (facts->jitter_s > 1e-4);
  assert_close_relative (sb_trial_facts_rate_hz (facts), 1000, 2e-3);
}

static void
facts_outlive_the_trial (void **state)
{
  TrialFixture *fixture = *state;
  g_string_append (fixture->text, "# device: bench motor A\n# firmware: 2.1\n# rotation_deg: 540\n"
                                  "# setting torque slope: 0.6 N·m/ms\n");
  write_log (fixture, WITH_COMMAND | WITH_TORQUE, -1);
  make_trial (fixture, NULL);
  SbTrialFacts *facts = fixture->facts = sb_trial_facts_new (fixture->trial);
  g_clear_pointer (&fixture->trial, sb_trial_unref);
  g_clear_pointer (&fixture->log, sb_log_unref);
  assert_string_equal (facts->name, "run.csv");
  assert_string_equal (facts->device, "bench motor A");
  assert_string_equal (facts->firmware, "2.1");
  assert_null (facts->operator_name);
  assert_close (facts->rotation_deg, 540, 0);
  assert_close (facts->inertia_kg_m2, NAN, 0);
  const SbSetting *setting = g_ptr_array_index (facts->settings, 0);
  assert_string_equal (setting->text, "0.6 N·m/ms");
  assert_int_equal (facts->n_rows, N);
  assert_true (facts->mirrored);
  assert_true (facts->has[SB_CHANNEL_TORQUE]);
  assert_false (facts->has[SB_CHANNEL_VELOCITY]);
  assert_close (facts->onset_s, 0.1, 0);
  assert_close (facts->start_s, -0.1, 0);
  assert_close (facts->end_s, 0.499, 1e-15);
  assert_close (facts->active_end_s, 0.299, 1e-15);
  assert_close (facts->command_top_nm, 8, 0);
  assert_int_equal (strlen (facts->sha256), 64);
}

static void
onset_keys_are_those_of_the_results (void **state)
{
  assert_string_equal (sb_onset_from_key (SB_ONSET_FROM_COMMAND), "command");
  assert_string_equal (sb_onset_from_key (SB_ONSET_FROM_TORQUE), "torque");
  assert_string_equal (sb_onset_from_key (SB_ONSET_FROM_VELOCITY), "velocity");
  assert_string_equal (sb_onset_from_key (SB_ONSET_BY_HAND), "hand");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    trial_test (command_gives_onset_levels_and_window),
    trial_test (step_down_is_mirrored_and_gets_the_same_numbers),
    trial_test (mirrored_trial_leaves_its_log_alone),
    trial_test (jump_lies_in_its_own_interval),
    trial_test (constant_command_falls_back_to_torque_and_says_so),
    trial_test (torque_alone_gives_the_start_of_its_ramp),
    trial_test (velocity_alone_gives_the_start_of_its_line),
    trial_test (log_without_a_step_says_what_to_do),
    trial_test (log_without_a_step_serves_with_an_onset_by_hand),
    trial_test (hand_wins_over_command_and_keeps_its_window),
    trial_test (window_by_hand_ends_with_the_log_at_the_latest),
    trial_test (sample_at_the_window_edge_belongs_to_it),
    trial_test (steps_after_the_first_are_told_of),
    trial_test (command_that_goes_back_to_its_base_steps_once),
    trial_test (onset_by_hand_chooses_the_step_next_to_it),
    trial_test (stretch_of_a_log_is_a_trial_of_its_own),
    trial_test (stretch_without_rows_is_refused),
    trial_test (too_few_rows_are_refused),
    trial_test (window_with_too_few_samples_is_refused),
    trial_test (onset_after_the_end_of_the_log_is_refused),
    trial_test (onset_long_before_the_log_is_refused),
    trial_test (gap_in_the_rows_is_listed),
    trial_test (velocity_is_derived_from_the_angle),
    trial_test (torque_is_derived_from_the_velocity_and_the_stated_inertia),
    trial_test (estimated_torque_is_marked_as_derived),
    trial_test (rate_of_jittering_times_is_rows_over_time),
    trial_test (facts_outlive_the_trial),
    cmocka_unit_test (onset_keys_are_those_of_the_results),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
