/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crossing.h"
#include "make_trial.h"

#define N        2000
#define INTERVAL 1e-4

typedef struct {
  double t[N], y[N];
} Samples;

static int
setup (void **state)
{
  Samples *samples = g_new0 (Samples, 1);
  for (int i = 0; i < N; i++)
    samples->t[i] = i * INTERVAL;
  *state = samples;
  return 0;
}

static int
teardown (void **state)
{
  g_free (*state);
  return 0;
}

/* The definition, step by step: first crossings one after the other, linear between the samples. */
static void
assert_first_crossings (const Samples *s, double base, double top, const SbCrossing *found)
{
  double sign = top > base ? 1 : -1;
  gsize i = 1;
  for (int k = 0; k < 3; k++) {
    double level = base + (0.1 + 0.4 * k) * (top - base);
    while (!(sign * s->y[i - 1] < sign * level && sign * s->y[i] >= sign * level))
      i++;
    double at = s->t[i - 1] + INTERVAL * (level - s->y[i - 1]) / (s->y[i] - s->y[i - 1]);
    assert_close (found[k].t_s, at, 1e-15);
    assert_int_equal (found[k].n_points, 2);
  }
}

/* A critically damped rise, up and down. */
static void
clean_transition_has_its_first_crossings (void **state)
{
  Samples *s = *state;
  for (int sign = -1; sign <= 1; sign += 2) {
    SbStates states = { 3, 3 + sign * 8.0, 0 };
    for (int i = 0; i < N; i++) {
      double u = fmax (0, (s->t[i] - 0.05) / 0.004);
      s->y[i] = 3 + sign * 8 * (1 - exp (-u) * (1 + u));
    }
    SbCrossing found[3];
    assert_true (sb_transition_crossings (s->t, s->y, 0, N - 1, &states, 3, found));
    assert_first_crossings (s, 3, 3 + sign * 8.0, found);
  }
}

/* Rounding is noise, of 1e-9 of the step: the line over what it hides ends where the first crossing is. */
static void
crossings_go_over_into_the_first_ones_as_noise_vanishes (void **state)
{
  Samples *s = *state;
  MadeNoise noise = { 5 };
  SbStates clean = { 0, 8, 0 }, noisy = { 0, 8, 8e-9 };
  for (int i = 0; i < N; i++) {
    double u = fmax (0, (s->t[i] - 0.05) / 0.02);
    s->y[i] = 8 * (1 - exp (-u) * (1 + u)) + 8e-9 * made_normal (&noise);
  }
  SbCrossing first[3], found[3];
  assert_true (sb_transition_crossings (s->t, s->y, 0, N - 1, &clean, 3, first));
  assert_true (sb_transition_crossings (s->t, s->y, 0, N - 1, &noisy, 3, found));
  for (int k = 0; k < 3; k++)
    assert_close (found[k].t_s, first[k].t_s, 1e-7 * 0.02);
}

/* A straight rise of 100 ms with noise of 3 % of the step, which crosses each level some dozens of times. A line over
 * 160 samples (18 % of the rise) is good to 0.03 * 100 ms / √180 = 0.22 ms; the mean over 400 seeds to a twentieth of
 * that. First crossings would come several ms early. */
static void
noise_that_crosses_again_moves_no_crossing (void **state)
{
  Samples *s = *state;
  SbStates states = { 0, 8, 0.24 };
  double error[3] = { 0 }, square[3] = { 0 };
  for (guint64 seed = 1; seed <= 400; seed++) {
    MadeNoise noise = { seed * 0x9e3779b97f4a7c15u };
    for (int i = 0; i < N; i++)
      s->y[i] = 8 * CLAMP ((s->t[i] - 0.05) / 0.1, 0, 1) + 0.24 * made_normal (&noise);
    SbCrossing found[3];
    assert_true (sb_transition_crossings (s->t, s->y, 0, N - 1, &states, 3, found));
    for (int k = 0; k < 3; k++) {
      double off = found[k].t_s - (0.05 + 0.1 * (0.1 + 0.4 * k));
      error[k] += off / 400;
      square[k] += off * off / 400;
    }
  }
  for (int k = 0; k < 3; k++) {
    assert_close (error[k], 0, 3 * 0.22e-3 / 20);
    assert_in_range ((gulong) (1e6 * sqrt (square[k])), 215, 1300 * 0.22);
  }
}

static void
rise_that_stops_half_way_has_no_crossing_of_90_percent (void **state)
{
  Samples *s = *state;
  SbStates states = { 0, 8, 0 };
  for (int i = 0; i < N; i++)
    s->y[i] = 5 * CLAMP ((s->t[i] - 0.05) / 0.01, 0, 1);
  SbCrossing found[3];
  assert_false (sb_transition_crossings (s->t, s->y, 0, N - 1, &states, 3, found));
  assert_true (sb_transition_crossings (s->t, s->y, 0, N - 1, &states, 2, found));
  assert_close (found[1].t_s, 0.05 + 0.01 * 0.8, 1e-9);
}

/* Times so small that the samples' squares are nothing: what a stretch of them bends cannot be told. First crossings
 * remain, and the search ends. */
static void
times_below_the_smallest_normal_number_have_first_crossings (void **state)
{
  Samples *s = *state;
  SbStates states = { 0, 8, 0.01 };
  for (int i = 0; i < N; i++) {
    s->t[i] = i * 0x1p-1074;
    s->y[i] = 8 * CLAMP ((i - 500) / 1000.0, 0, 1) + (i % 2 == 0 ? 0.01 : -0.01);
  }
  SbCrossing found[3];
  assert_true (sb_transition_crossings (s->t, s->y, 0, N - 1, &states, 3, found));
  for (int k = 0; k < 3; k++)
    assert_int_equal (found[k].n_points, 2);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, setup, teardown)
    T (clean_transition_has_its_first_crossings),
    T (crossings_go_over_into_the_first_ones_as_noise_vanishes),
    T (noise_that_crosses_again_moves_no_crossing),
    T (times_below_the_smallest_normal_number_have_first_crossings),
    T (rise_that_stops_half_way_has_no_crossing_of_90_percent),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
