/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "levels.h"
#include "trial_fixture.h"

static void
level_of_equal_values_is_that_value (void **state)
{
  const double y[] = { 3.7, 3.7, 3.7, 3.7 };
  double share = 0;
  assert_close (sb_level_mode (y, 4, SB_LEVEL_BINS, &share), 3.7, 0);
  assert_close (share, 1, 0);
  assert_close (sb_level_mode (y, 1, SB_LEVEL_BINS, NULL), 3.7, 0);
}

static void
level_of_two_clean_levels_is_the_fuller_one (void **state)
{
  /* 60 values at 2.5 and 40 at -1: with no noise the mode carries nothing of its bin's width. */
  double y[100];
  for (int i = 0; i < 100; i++)
    y[i] = i < 60 ? 2.5 : -1;
  double share = 0;
  assert_close (sb_level_mode (y, 100, SB_LEVEL_BINS, &share), 2.5, 1e-14);
  assert_close (share, 0.6, 1e-15);
}

static void
level_of_a_tie_is_the_lower_one (void **state)
{
  double y[10];
  for (int i = 0; i < 10; i++)
    y[i] = i % 2 == 0 ? 12 : -12;
  assert_close (sb_level_mode (y, 10, SB_LEVEL_BINS, NULL), -12, 1e-13);
}

static void
level_holds_where_bins_are_smaller_than_the_numbers_can_resolve (void **state)
{
  /* Two neighbouring doubles: the range is one unit in the last place, a bin is nothing. */
  double low = 1, high = nextafter (1, 2);
  double y[3] = { low, high, high };
  double level = sb_level_mode (y, 3, SB_LEVEL_BINS, NULL);
  assert_true (level >= low && level <= high);
}

static void
levels_of_noisy_steps_lie_within_one_bin (void **state)
{
  /* Noise of half a bin: every value of a level lies in its bin or the two beside it, and so does the level found. */
  TrialFixture *fixture = *state;
  make_room (fixture, 3000);
  const double step = 12, bin = step / SB_LEVEL_BINS;
  for (guint64 run = 1; run <= 20; run++) {
    guint64 seed = run;
    for (int i = 0; i < 3000; i++)
      fixture->y[i] = (i < 1000 ? 0 : step) + bin / 2 * next_noise (&seed);
    assert_close (sb_level_mode (fixture->y, 3000, SB_LEVEL_BINS, NULL), step, bin);
    assert_close (sb_level_mode (fixture->y, 1400, SB_LEVEL_BINS, NULL), 0, bin);
  }
}

/* Normal noise of standard deviation s, written in steps of q: by Sheppard's correction the values' variance is
 * s² + q²/12, to a thousandth from s = q/2 on. Most values are then the same one, and those a step beside it are what
 * there is of the noise. 4,000 values tell a standard deviation to 1.1 %, and what lies beyond three is left out. */
static void
base_of_coarse_values_keeps_their_noise (void **state)
{
  static const double steps[] = { 0.02, 0.05, 0.1 }; /* for s = 0.05 */
  for (gsize k = 0; k < G_N_ELEMENTS (steps); k++) {
    guint64 seed = 90210;
    g_autofree double *y = g_new (double, 4000);
    for (gsize i = 0; i < 4000; i++)
      y[i] = round ((0.003 + 0.05 * next_normal (&seed)) / steps[k]) * steps[k];
    SbBaseLevel base = sb_level_base (y, 4000);
    double sd = sqrt (0.05 * 0.05 + steps[k] * steps[k] / 12);
    assert_close (base.sd, sd, 0.05 * sd);
    assert_close (base.level, 0.003, 4 * sd / sqrt (4000));
  }
}

static void
first_crossing_is_between_below_and_at_or_above (void **state)
{
  const double y[] = { 0, 1, 2, 1, 2, 3 };
  assert_int_equal (sb_first_crossing (y, 0, 5, 1.5), 1);
  assert_int_equal (sb_first_crossing (y, 0, 5, 2), 1); /* reached by the sample itself */
  assert_int_equal (sb_first_crossing (y, 2, 5, 1.5), 3);
  assert_int_equal (sb_first_crossing (y, 0, 5, 3.5), 5);
  assert_int_equal (sb_first_crossing (y, 0, 5, -1), 5); /* never below it */
}

static void
crossing_time_is_linear_between_samples (void **state)
{
  /* From 2 at 1 s to 6 at 3 s, 3 is passed after a quarter of the way: 1.5 s. */
  const double t[] = { 1, 3 }, y[] = { 2, 6 };
  assert_close (sb_crossing_time (t, y, 0, 3), 1.5, 1e-15);
  assert_close (sb_crossing_time (t, y, 0, 6), 3, 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    trial_test (level_of_equal_values_is_that_value),
    trial_test (level_of_two_clean_levels_is_the_fuller_one),
    trial_test (level_of_a_tie_is_the_lower_one),
    trial_test (level_holds_where_bins_are_smaller_than_the_numbers_can_resolve),
    trial_test (levels_of_noisy_steps_lie_within_one_bin),
    trial_test (base_of_coarse_values_keeps_their_noise),
    trial_test (first_crossing_is_between_below_and_at_or_above),
    trial_test (crossing_time_is_linear_between_samples),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
