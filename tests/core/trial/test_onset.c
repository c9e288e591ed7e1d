/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "onset.h"
#include "trial_fixture.h"

#define N 1000

static void
fill_times (TrialFixture *fixture)
{
  make_room (fixture, N);
  for (int i = 0; i < N; i++)
    fixture->t[i] = i / 1000.0;
}

/* A straight line from `from` at start_s to `to` at end_s, level before and after. */
static double
ramp (double t, double start_s, double end_s, double from, double to)
{
  return from + (to - from) * CLAMP ((t - start_s) / (end_s - start_s), 0, 1);
}

static SbOnset
command_onset (TrialFixture *fixture)
{
  SbOnset onset = { 0 };
  assert_true (sb_onset_by_command (fixture->t, fixture->y, N, &onset));
  return onset;
}

static SbOnset
response_onset (TrialFixture *fixture, gboolean plateau)
{
  SbOnset onset = { 0 };
  assert_true (sb_onset_by_response (fixture->t, fixture->y, N, plateau, &onset));
  return onset;
}

static void
jump_begins_at_the_first_sample_at_the_new_level (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = i < 200 ? 0 : 12;
  SbOnset onset = command_onset (fixture);
  assert_close (onset.onset_s, 0.2, 0);
  assert_int_equal (onset.direction, 1);
  assert_close (onset.base, 0, 0);
  assert_close (onset.top, 12, 0);
  assert_close (onset.level_end_s, fixture->t[N - 1], 0);
}

static void
jump_at_the_second_sample_is_found (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = i < 1 ? 2 : 5;
  assert_close (command_onset (fixture).onset_s, 0.001, 0);
}

static void
ramped_command_begins_at_its_middle (void **state)
{
  /* From 0.2003 s to 0.2103 s the middle of the levels is passed at 0.2053 s, between two samples. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = ramp (fixture->t[i], 0.2003, 0.2103, -3, 9);
  SbOnset onset = command_onset (fixture);
  assert_close (onset.onset_s, 0.2053, 1e-12);
  assert_close (onset.base, -3, 1e-12);
  assert_close (onset.top, 9, 1e-12);
}

static void
edge_of_one_sample_between_the_levels_begins_at_its_middle (void **state)
{
  /* 0, 9, 12: the middle, 6, lies at two thirds of the way from 0 to 9. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = i < 300 ? 0 : (i == 300 ? 9 : 12);
  assert_close (command_onset (fixture).onset_s, 0.299 + 0.001 * 6 / 9, 1e-12);
}

static void
step_down_has_the_same_onset_as_its_mirror (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = ramp (fixture->t[i], 0.2003, 0.2103, 3, -9);
  SbOnset onset = command_onset (fixture);
  assert_int_equal (onset.direction, -1);
  assert_close (onset.onset_s, 0.2053, 1e-12);
  assert_close (onset.base, 3, 1e-12);
  assert_close (onset.top, -9, 1e-12);
}

static void
level_ends_at_its_last_sample (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int sign = -1; sign <= 1; sign += 2) {
    for (int i = 0; i < N; i++)
      fixture->y[i] = i >= 200 && i < 700 ? sign * 12 : 0;
    SbOnset onset = command_onset (fixture);
    assert_int_equal (onset.direction, sign);
    assert_close (onset.onset_s, 0.2, 0);
    assert_close (onset.level_end_s, 0.699, 0);
  }
}

static void
short_level_is_found_in_a_long_log (void **state)
{
  /* 50 samples of 12 among 950 of 0: the level is not the mode of the log. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = i >= 100 && i < 150 ? 12 : 0;
  SbOnset onset = command_onset (fixture);
  assert_close (onset.top, 12, 0);
  assert_close (onset.level_end_s, 0.149, 0);
}

static void
only_the_first_of_several_steps_counts (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = i / 250 % 2 == 0 ? 0 : 8; /* up, down, up */
  SbOnset onset = command_onset (fixture);
  assert_close (onset.onset_s, 0.25, 0);
  assert_close (onset.level_end_s, 0.499, 0);
  assert_close (onset.top, 8, 0);
}

static void
noisy_measured_command_begins_at_its_jump (void **state)
{
  /* Noise of 0.05 on a step of 12 stays within the 2 % of the step that a level may differ by; a bin is 12.1/256. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (guint64 run = 1; run <= 50; run++) {
    guint64 seed = run;
    for (int i = 0; i < N; i++)
      fixture->y[i] = (i >= 200 && i < 800 ? 12 : 0) + 0.05 * next_noise (&seed);
    SbOnset onset = command_onset (fixture);
    assert_close (onset.onset_s, 0.2, 0);
    assert_close (onset.level_end_s, 0.799, 0);
    assert_close (onset.base, 0, 0.05);
    assert_close (onset.top, 12, 0.05);
  }
}

static void
constant_command_does_not_step (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  SbOnset onset = { 0 };
  for (int i = 0; i < N; i++)
    fixture->y[i] = 8;
  assert_false (sb_onset_by_command (fixture->t, fixture->y, N, &onset));
  for (int i = 0; i < N; i++)
    fixture->y[i] = i % 2 == 0 ? 8 : nextafter (8, 9); /* nothing but rounding */
  assert_false (sb_onset_by_command (fixture->t, fixture->y, N, &onset));
  assert_false (sb_onset_by_response (fixture->t, fixture->y, N, TRUE, &onset));
}

static void
straight_torque_ramp_begins_where_it_starts (void **state)
{
  /* 10 % and 50 % lie on the ramp, so the line through them is the ramp and meets the base at its start. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  static const double starts_s[] = { 0.2, 0.2004, 0.2117 };
  for (gsize s = 0; s < G_N_ELEMENTS (starts_s); s++)
    for (int sign = -1; sign <= 1; sign += 2) {
      for (int i = 0; i < N; i++)
        fixture->y[i] = ramp (fixture->t[i], starts_s[s], starts_s[s] + 0.03, sign * 0.5, sign * 10.5);
      SbOnset onset = response_onset (fixture, TRUE);
      assert_int_equal (onset.direction, sign);
      assert_close (onset.onset_s, starts_s[s], 1e-12);
      assert_close (onset.base, sign * 0.5, 1e-12);
      assert_close (onset.top, sign * 10.5, 1e-12);
    }
}

static void
torque_that_overshoots_is_judged_by_its_plateau (void **state)
{
  /* A ramp on to 13 and back to a plateau of 10: 10 % and 50 % of the plateau lie on the ramp all the same. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i]
        = fixture->t[i] < 0.25 ? ramp (fixture->t[i], 0.2, 0.226, 0, 13) : ramp (fixture->t[i], 0.25, 0.26, 13, 10);
  SbOnset onset = response_onset (fixture, TRUE);
  assert_close (onset.onset_s, 0.2, 1e-12);
  assert_close (onset.top, 10, 1e-12);
}

static void
torque_taken_back_before_the_log_ends_still_begins_where_it_starts (void **state)
{
  /* 0.1 s of torque and 0.7 s of rest after it: most of the log after the move is at the base level again. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int sign = -1; sign <= 1; sign += 2) {
    for (int i = 0; i < N; i++)
      fixture->y[i]
          = sign
            * (fixture->t[i] < 0.3 ? ramp (fixture->t[i], 0.2, 0.22, 0, 10) : ramp (fixture->t[i], 0.3, 0.31, 10, 0));
    SbOnset onset = response_onset (fixture, TRUE);
    assert_int_equal (onset.direction, sign);
    assert_close (onset.onset_s, 0.2, 1e-12);
    assert_close (onset.top, sign * 10, 1e-12);
    assert_close (onset.level_end_s, 0.302, 1e-12); /* the last sample within a quarter of the step of the top */
  }
}

static void
velocity_is_judged_by_its_largest_value (void **state)
{
  /* Constant acceleration from 0.2 s on, never a plateau: the line is the curve. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (int i = 0; i < N; i++)
    fixture->y[i] = 50 * fmax (0, fixture->t[i] - 0.2);
  SbOnset onset = response_onset (fixture, FALSE);
  assert_close (onset.onset_s, 0.2, 1e-12);
  assert_close (onset.top, 50 * (0.999 - 0.2), 1e-12);
}

static void
response_without_rest_before_it_has_no_onset (void **state)
{
  TrialFixture *fixture = *state;
  fill_times (fixture);
  SbOnset onset = { 0 };
  for (int i = 0; i < N; i++)
    fixture->y[i] = i == 0 ? 0 : 10;
  assert_false (sb_onset_by_response (fixture->t, fixture->y, N, TRUE, &onset));
}

static void
noisy_torque_begins_near_its_start (void **state)
{
  /* Slope 500 N·m/s, noise of at most 0.05 N·m: a crossing moves by at most 0.1 ms and one sample's straightness; the
   * line is carried back by a quarter of t50 - t10, so the onset moves by at most 1.5 times that, plus the level's
   * own error of 0.05 N·m in 10. */
  TrialFixture *fixture = *state;
  fill_times (fixture);
  for (guint64 run = 1; run <= 50; run++) {
    guint64 seed = run;
    for (int i = 0; i < N; i++)
      fixture->y[i] = ramp (fixture->t[i], 0.2, 0.22, 0, 10) + 0.05 * next_noise (&seed);
    assert_close (response_onset (fixture, TRUE).onset_s, 0.2, 0.0005);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    trial_test (jump_begins_at_the_first_sample_at_the_new_level),
    trial_test (jump_at_the_second_sample_is_found),
    trial_test (ramped_command_begins_at_its_middle),
    trial_test (edge_of_one_sample_between_the_levels_begins_at_its_middle),
    trial_test (step_down_has_the_same_onset_as_its_mirror),
    trial_test (level_ends_at_its_last_sample),
    trial_test (short_level_is_found_in_a_long_log),
    trial_test (only_the_first_of_several_steps_counts),
    trial_test (noisy_measured_command_begins_at_its_jump),
    trial_test (constant_command_does_not_step),
    trial_test (straight_torque_ramp_begins_where_it_starts),
    trial_test (torque_that_overshoots_is_judged_by_its_plateau),
    trial_test (torque_taken_back_before_the_log_ends_still_begins_where_it_starts),
    trial_test (velocity_is_judged_by_its_largest_value),
    trial_test (response_without_rest_before_it_has_no_onset),
    trial_test (noisy_torque_begins_near_its_start),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
