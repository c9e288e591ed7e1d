/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands are built level by level, so that every edge and level is known by construction. */
#include "make_trial.h"
#include "steps.h"

/* Samples of a command as it is built; `interval_s` apart from 0 on. */
typedef struct {
  GArray *t, *y; /* double */
  GArray *found; /* SbStep */
  double interval_s;
} Command;

static int
setup (void **state)
{
  Command *command = g_new0 (Command, 1);
  command->t = g_array_new (FALSE, FALSE, sizeof (double));
  command->y = g_array_new (FALSE, FALSE, sizeof (double));
  command->interval_s = 0.001;
  *state = command;
  return 0;
}

static int
teardown (void **state)
{
  Command *command = *state;
  g_array_unref (command->t);
  g_array_unref (command->y);
  g_clear_pointer (&command->found, g_array_unref);
  g_free (command);
  return 0;
}

static void
add (Command *command, double y)
{
  double t = command->t->len * command->interval_s;
  g_array_append_val (command->t, t);
  g_array_append_val (command->y, y);
}

static void
hold (Command *command, double level, int n)
{
  for (int i = 0; i < n; i++)
    add (command, level);
}

/* n samples on the way from one level to another, neither included. */
static void
ramp (Command *command, double from, double to, int n)
{
  for (int i = 1; i <= n; i++)
    add (command, from + (to - from) * i / (n + 1));
}

static double *
values (Command *command)
{
  return (double *) (gpointer) command->y->data;
}

static const GArray *
find (Command *command)
{
  g_clear_pointer (&command->found, g_array_unref);
  command->found = sb_steps_find ((const double *) (gconstpointer) command->t->data, values (command), command->t->len);
  return command->found;
}

static const SbStep *
step_at (const GArray *steps, guint index)
{
  assert_true (index < steps->len);
  return &g_array_index (steps, SbStep, index);
}

/* What an edge has to be. */
typedef struct {
  double edge_s, base, top;
  gboolean is_release;
} Expected;

static void
assert_steps (const GArray *steps, const Expected *expected, guint n, double time_tolerance, double level_tolerance)
{
  assert_int_equal (steps->len, n);
  for (guint i = 0; i < n; i++) {
    const SbStep *step = step_at (steps, i);
    assert_close (step->edge_s, expected[i].edge_s, time_tolerance);
    assert_close (step->base_nm, expected[i].base, level_tolerance);
    assert_close (step->top_nm, expected[i].top, level_tolerance);
    assert_int_equal (step->direction, expected[i].top > expected[i].base ? 1 : -1);
    assert_int_equal (step->is_release, expected[i].is_release);
  }
}

/* Levels of 100 ms each, one after the other. */
static void
hold_each (Command *command, const double *levels, gsize n)
{
  for (gsize l = 0; l < n; l++)
    hold (command, levels[l], 100);
}

#define HOLD_EACH(command, ...)                                                                                        \
  hold_each ((command), (const double[]){ __VA_ARGS__ }, G_N_ELEMENTS (((const double[]){ __VA_ARGS__ })))

static void
step_up_is_one_step_and_the_way_back_a_release (void **state)
{
  HOLD_EACH (*state, 0, 8, 0);
  const Expected expected[] = { { 0.1, 0, 8, FALSE }, { 0.2, 8, 0, TRUE } };
  assert_steps (find (*state), expected, 2, 1e-12, 0);
  assert_int_equal (sb_steps_count (find (*state)), 1);
}

static void
step_down_goes_down (void **state)
{
  HOLD_EACH (*state, 2, -6);
  const Expected expected[] = { { 0.1, 2, -6, FALSE } };
  assert_steps (find (*state), expected, 1, 1e-12, 0);
}

static void
staircase_up_is_a_step_per_stair (void **state)
{
  HOLD_EACH (*state, 0, 2, 4, 6, 0);
  const Expected expected[] = { { 0.1, 0, 2, FALSE }, { 0.2, 2, 4, FALSE }, { 0.3, 4, 6, FALSE }, { 0.4, 6, 0, TRUE } };
  assert_steps (find (*state), expected, 4, 1e-12, 0);
}

static void
staircase_down_from_a_level_of_rest_has_no_release (void **state)
{
  HOLD_EACH (*state, 6, 4, 2, 0);
  const Expected expected[] = { { 0.1, 6, 4, FALSE }, { 0.2, 4, 2, FALSE }, { 0.3, 2, 0, FALSE } };
  assert_steps (find (*state), expected, 3, 1e-12, 0);
}

static void
staircase_up_and_down_ends_with_a_release (void **state)
{
  HOLD_EACH (*state, 0, 3, 6, 3, 0);
  const Expected expected[] = { { 0.1, 0, 3, FALSE }, { 0.2, 3, 6, FALSE }, { 0.3, 6, 3, FALSE }, { 0.4, 3, 0, TRUE } };
  assert_steps (find (*state), expected, 4, 1e-12, 0);
}

static void
pulses_are_a_step_each (void **state)
{
  HOLD_EACH (*state, 0, 10, 0, 10, 0);
  const Expected expected[]
      = { { 0.1, 0, 10, FALSE }, { 0.2, 10, 0, TRUE }, { 0.3, 0, 10, FALSE }, { 0.4, 10, 0, TRUE } };
  assert_steps (find (*state), expected, 4, 1e-12, 0);
}

static void
alternating_pulses_are_a_step_each (void **state)
{
  HOLD_EACH (*state, 0, 8, 0, -8, 0);
  const Expected expected[]
      = { { 0.1, 0, 8, FALSE }, { 0.2, 8, 0, TRUE }, { 0.3, 0, -8, FALSE }, { 0.4, -8, 0, TRUE } };
  assert_steps (find (*state), expected, 4, 1e-12, 0);
}

static void
reversals_without_a_rest_are_steps (void **state)
{
  HOLD_EACH (*state, 0, 8, -8, 8, 0);
  const Expected expected[]
      = { { 0.1, 0, 8, FALSE }, { 0.2, 8, -8, FALSE }, { 0.3, -8, 8, FALSE }, { 0.4, 8, 0, TRUE } };
  assert_steps (find (*state), expected, 4, 1e-12, 0);
}

/* 49 samples lie between the levels: the ramp takes 50 intervals and passes its middle after 25 of them, from the last
 * sample at the level before (at 0.099 s) and at 0.248 s. */
static void
ramps_are_steps_at_their_middle (void **state)
{
  Command *command = *state;
  hold (command, 0, 100);
  ramp (command, 0, 5, 49);
  hold (command, 5, 100);
  ramp (command, 5, 0, 49);
  hold (command, 0, 100);
  const Expected expected[] = { { 0.124, 0, 5, FALSE }, { 0.273, 5, 0, TRUE } };
  assert_steps (find (command), expected, 2, 1e-12, 1e-12);
}

static void
slow_ramp_between_levels_is_one_step (void **state)
{
  Command *command = *state;
  hold (command, 0, 500);
  ramp (command, 0, 5, 999);
  hold (command, 5, 500);
  const Expected expected[] = { { 0.999, 0, 5, FALSE } };
  assert_steps (find (command), expected, 1, 1e-9, 0.05); /* the last of a slow ramp counts as its level */
}

/* A measured command carries noise. A level of 400 samples is known to 0.25 / √400 by its mean; its mode, of fewer
 * samples, to some four times that. An edge may be taken a sample off. */
static void
noise_of_a_tenth_of_a_stair_hides_no_stair (void **state)
{
  Command *command = *state;
  MadeNoise noise = { 7 };
  static const double levels[] = { 0, 2.5, 5, 7.5, 10, 0 };
  for (gsize l = 0; l < G_N_ELEMENTS (levels); l++)
    for (int i = 0; i < 400; i++)
      add (command, levels[l] + 0.25 * made_normal (&noise));
  const Expected expected[] = { { 0.4, 0, 2.5, FALSE },
                                { 0.8, 2.5, 5, FALSE },
                                { 1.2, 5, 7.5, FALSE },
                                { 1.6, 7.5, 10, FALSE },
                                { 2.0, 10, 0, TRUE } };
  assert_steps (find (command), expected, 5, 0.0011, 0.25);
}

static void
noise_alone_has_no_step (void **state)
{
  Command *command = *state;
  MadeNoise noise = { 11 };
  for (int i = 0; i < 5000; i++)
    add (command, 3 + 0.1 * made_normal (&noise));
  assert_int_equal (find (command)->len, 0);
}

static void
glitches_are_no_steps (void **state)
{
  Command *command = *state;
  HOLD_EACH (command, 0, 10, 0);
  values (command)[50] = 1000; /* one sample, before */
  for (int i = 150; i < 154; i++)
    values (command)[i] = 0;   /* 4 ms of the level */
  values (command)[260] = -30; /* one sample, after */
  const Expected expected[] = { { 0.1, 0, 10, FALSE }, { 0.2, 10, 0, TRUE } };
  assert_steps (find (command), expected, 2, 1e-12, 0);
}

static void
glitch_just_before_an_edge_does_not_move_it (void **state)
{
  Command *command = *state;
  HOLD_EACH (command, 0, 10);
  values (command)[97] = 12;
  const Expected expected[] = { { 0.1, 0, 10, FALSE } };
  assert_steps (find (command), expected, 1, 1e-12, 0);
}

static void
waves_and_ramps_without_levels_have_no_steps (void **state)
{
  Command *command = *state;
  for (int i = 0; i < 5000; i++)
    add (command, 10 * sin (2 * G_PI * i / 1000));
  assert_int_equal (find (command)->len, 0);
  for (int i = 0; i < 5000; i++)
    values (command)[i] = fabs ((double) (i % 1000) - 500) / 50;
  assert_int_equal (find (command)->len, 0);
}

static void
constant_command_has_no_steps (void **state)
{
  Command *command = *state;
  hold (command, 0.1, 500);
  assert_int_equal (find (command)->len, 0);
  for (int i = 250; i < 500; i++)
    values (command)[i] = nextafter (0.1, 1); /* its rounding */
  assert_int_equal (find (command)->len, 0);
}

static void
too_few_samples_have_no_steps (void **state)
{
  Command *command = *state;
  assert_int_equal (find (command)->len, 0);
  hold (command, 0, 3);
  hold (command, 1, 3);
  assert_int_equal (find (command)->len, 0);
}

/* A recorder that was triggered by the step has three samples of the rest before it. */
static void
short_level_at_the_start_of_a_log_is_the_rest (void **state)
{
  Command *command = *state;
  hold (command, 0, 3);
  HOLD_EACH (command, 10, 0, 10);
  const Expected expected[] = { { 0.003, 0, 10, FALSE }, { 0.103, 10, 0, TRUE }, { 0.203, 0, 10, FALSE } };
  assert_steps (find (command), expected, 3, 1e-12, 0);
}

/* More samples than there are blocks: a block has 15 of them, and edges lie within blocks. */
static void
long_log_has_its_edges_to_the_sample (void **state)
{
  Command *command = *state;
  hold (command, 0, 100007);
  hold (command, 4, 50002);
  hold (command, 0, 30011);
  hold (command, -4, 70000);
  const Expected expected[] = { { 100.007, 0, 4, FALSE }, { 150.009, 4, 0, TRUE }, { 180.020, 0, -4, FALSE } };
  assert_steps (find (command), expected, 3, 1e-9, 0);
}

/* Of a range of 10 a level wavers by 0.6 %: more than its noise, less than two levels differ by (2 %). The last part is
 * within a sample's reach (1 %) of the first of the three, out of that of the second. */
static void
level_that_wavers_is_one_level (void **state)
{
  static const double levels[] = { 0, 10, 10.06, 9.94 };
  for (gsize i = 0; i < G_N_ELEMENTS (levels); i++)
    hold (*state, levels[i], 128); /* 512 in all fill their array: a look behind them is found out */
  const GArray *steps = find (*state);
  assert_int_equal (steps->len, 1);
  assert_close (step_at (steps, 0)->edge_s, 0.128, 1e-12);
  assert_int_equal (step_at (steps, 0)->top_last, 511);
}

/* From the middle of the level before to the end of the level stepped to; the log's ends at its ends. */
static void
stretches_hold_one_step_each (void **state)
{
  HOLD_EACH (*state, 0, 8, 0, 8, 12);
  const GArray *steps = find (*state);
  static const double stretches[][2] = { { 0, 0.199 }, { 0.149, 0.299 }, { 0.249, 0.399 }, { 0.349, 0.499 } };
  assert_int_equal (steps->len, 4);
  for (guint i = 0; i < 4; i++) {
    assert_close (step_at (steps, i)->from_s, stretches[i][0], 1e-12);
    assert_close (step_at (steps, i)->to_s, stretches[i][1], 1e-12);
  }
}

#define STEPS_TEST(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    STEPS_TEST (step_up_is_one_step_and_the_way_back_a_release),
    STEPS_TEST (step_down_goes_down),
    STEPS_TEST (staircase_up_is_a_step_per_stair),
    STEPS_TEST (staircase_down_from_a_level_of_rest_has_no_release),
    STEPS_TEST (staircase_up_and_down_ends_with_a_release),
    STEPS_TEST (pulses_are_a_step_each),
    STEPS_TEST (alternating_pulses_are_a_step_each),
    STEPS_TEST (reversals_without_a_rest_are_steps),
    STEPS_TEST (ramps_are_steps_at_their_middle),
    STEPS_TEST (slow_ramp_between_levels_is_one_step),
    STEPS_TEST (noise_of_a_tenth_of_a_stair_hides_no_stair),
    STEPS_TEST (noise_alone_has_no_step),
    STEPS_TEST (glitches_are_no_steps),
    STEPS_TEST (glitch_just_before_an_edge_does_not_move_it),
    STEPS_TEST (waves_and_ramps_without_levels_have_no_steps),
    STEPS_TEST (constant_command_has_no_steps),
    STEPS_TEST (too_few_samples_have_no_steps),
    STEPS_TEST (short_level_at_the_start_of_a_log_is_the_rest),
    STEPS_TEST (long_log_has_its_edges_to_the_sample),
    STEPS_TEST (level_that_wavers_is_one_level),
    STEPS_TEST (stretches_hold_one_step_each),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
