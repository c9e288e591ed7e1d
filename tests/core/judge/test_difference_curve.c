/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Difference curves by algebra. How often their bands hold is in tests/accuracy. */
#include "difference_curve.h"
#include "make_trial.h"

#include <gsl/gsl_errno.h>

#define N        101
#define ONSET    20
#define INTERVAL 0.001

static MadeTrials *made;

static int
setup (void **state)
{
  gsl_set_error_handler_off ();
  made = made_trials_new ();
  return 0;
}

static int
teardown (void **state)
{
  made_trials_free (made);
  return 0;
}

/* A torque that is `level` plus `scatter` times noise of its own from the onset on, and 0 before. */
static SbTrial *
level_trial (gsize n, double interval_s, double level, double scatter, MadeNoise *noise)
{
  MadeLog log = make_step_log (made, n, ONSET, interval_s, 10);
  log.torque = make_column (made, n);
  for (gsize i = ONSET; i < n; i++)
    log.torque[i] = level + (scatter > 0 ? scatter * made_normal (noise) : 0);
  return make_trial (made, &log, NULL);
}

typedef struct {
  SbTrial *trial[20];
  gsize n;
} Side;

static void
make_side (Side *side, gsize n, double level, double scatter, guint64 seed)
{
  MadeNoise noise = { seed * 0x9e3779b97f4a7c15u };
  side->n = n;
  for (gsize i = 0; i < n; i++)
    side->trial[i] = level_trial (N, INTERVAL, level, scatter, &noise);
}

static SbDifferenceCurve *
curve_of (const Side *reference, const Side *other, SbChannel channel)
{
  guint channels = 1u << SB_CHANNEL_TORQUE;
  g_autoptr (SbEnsemble) a = sb_ensemble_new (reference->trial, reference->n, SB_SPAN_COMMON, channels);
  g_autoptr (SbEnsemble) b = sb_ensemble_new (other->trial, other->n, SB_SPAN_COMMON, channels);
  return sb_difference_curve_new (a, reference->trial, b, other->trial, channel);
}

/* Levels 2 N·m apart and a scatter of a hundredth of that: beyond any doubt at every instant after the onset, and
 * nothing to judge before it, where all repeats are 0. */
static void
a_difference_far_beyond_the_scatter_is_one_stretch (void **state)
{
  Side reference, other;
  make_side (&reference, 5, 10, 0.02, 1);
  make_side (&other, 5, 12, 0.02, 2);
  g_autoptr (SbDifferenceCurve) curve = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  assert_true (curve->present);
  assert_int_equal (curve->n_points, N);
  assert_int_equal (curve->first, -ONSET);
  assert_int_equal (curve->stretches->len, 1);
  const SbDifferenceStretch *stretch = &g_array_index (curve->stretches, SbDifferenceStretch, 0);
  assert_int_equal (stretch->sign, 1);
  assert_close (stretch->from_s, 0, 1e-9);
  assert_close (stretch->to_s, (N - 1 - ONSET) * INTERVAL, 1e-9);
  assert_true (stretch->largest >= 2 && stretch->largest < 2.1);
  for (gsize k = 0; k < ONSET; k++) {
    assert_close (curve->difference[k], 0, 0);
    assert_true (isnan (curve->half_pointwise[k]) && isnan (curve->half_simultaneous[k]));
  }
  for (gsize k = ONSET; k < N; k++)
    assert_true (curve->half_simultaneous[k] > curve->half_pointwise[k]);
}

/* By hand: 9, 10, 11 against 13, 13, 16 at every instant; means 10 and 14, variances 1 and 3, so the error is √(4/3)
 * and Welch's degrees of freedom (4/3)² / ((1/9 + 1) / 2) = 3.2; t(0.975, 3.2) = 3.0711 (R: qt (0.975, 3.2)
 * = 3.071092). */
static void
pointwise_band_is_welchs_interval (void **state)
{
  static const double levels[2][3] = { { 9, 10, 11 }, { 13, 13, 16 } };
  Side side[2];
  for (int s = 0; s < 2; s++) {
    side[s].n = 3;
    for (int i = 0; i < 3; i++)
      side[s].trial[i] = level_trial (N, INTERVAL, levels[s][i], 0, NULL);
  }
  g_autoptr (SbDifferenceCurve) curve = curve_of (&side[0], &side[1], SB_CHANNEL_TORQUE);
  assert_true (curve->present);
  assert_close (curve->difference[N - 1], 4, 1e-12);
  assert_close (curve->half_pointwise[N - 1], 3.072829 * sqrt (4.0 / 3), 1e-3);
}

/* Repeats that are levels apart from one another have one deviation for all instants: then the band of all instants is
 * that of one, and its critical value Student's t. Both sides scatter alike, so 8 degrees of freedom, and ten repeats
 * ask for 4 instead of 5 %: R's qt (0.98, 8) = 2.448985. The draws leave a few percent. */
static void
one_deviation_for_all_instants_needs_no_wider_band (void **state)
{
  Side side[2];
  for (int s = 0; s < 2; s++) {
    side[s].n = 5;
    for (int i = 0; i < 5; i++)
      side[s].trial[i] = level_trial (N, INTERVAL, 10 + i, 0, NULL);
  }
  g_autoptr (SbDifferenceCurve) curve = curve_of (&side[0], &side[1], SB_CHANNEL_TORQUE);
  assert_true (curve->present);
  assert_close (curve->df, 8, 0);
  assert_close (curve->critical, 2.448985, 0.06);
  assert_int_equal (curve->stretches->len, 0);
}

/* Two repeats a side have one deviation each, which looks as if it were the same at all instants: then the band is that
 * of Bonferroni's bound over 81 instants, with the degrees of freedom of Welch and Satterthwaite as a whole number. By
 * hand: 9 and 11 have a squared error of the mean of 1; so have 13 and 15, and (1 + 1)² / (1²/1 + 1²/1) = 2; 13 and
 * 13.2 have one of 0.01, and (1 + 0.01)² / (1²/1 + 0.01²/1) = 1.02, so 1. Student's t in closed form, for p = 1 - 0.025
 * / 81: of 2 degrees (2p - 1) / sqrt (2p (1 - p)) = 40.23059, of 1 tan (pi (p - 1/2)) = 1031.324. */
static void
two_repeats_a_side_have_bonferronis_bound (void **state)
{
  static const struct {
    double other[2], df, critical;
  } cases[] = { { { 13, 15 }, 2, 40.23059 }, { { 13, 13.2 }, 1, 1031.324 } };
  Side reference = { .n = 2 }, other = { .n = 2 };
  reference.trial[0] = level_trial (N, INTERVAL, 9, 0, NULL);
  reference.trial[1] = level_trial (N, INTERVAL, 11, 0, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    for (int k = 0; k < 2; k++)
      other.trial[k] = level_trial (N, INTERVAL, cases[i].other[k], 0, NULL);
    g_autoptr (SbDifferenceCurve) curve = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
    assert_true (curve->present && curve->by_bound);
    assert_close (curve->df, cases[i].df, 0);
    assert_close_relative (curve->critical, cases[i].critical, 1e-6);
  }
  make_side (&other, 3, 10, 1, 4);
  g_autoptr (SbDifferenceCurve) more = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  assert_false (more->by_bound);
}

/* Noise that is new at each of 81 instants asks for nearly Bonferroni's value, R's qt (1 - 0.025 / 81, 8) = 5.438213,
 * which is above twice that of one instant. */
static void
noise_that_is_new_at_each_instant_needs_nearly_bonferroni (void **state)
{
  Side reference, other;
  make_side (&reference, 5, 10, 1, 3);
  make_side (&other, 5, 10, 1, 4);
  g_autoptr (SbDifferenceCurve) curve = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  assert_true (curve->present);
  assert_close (curve->df, 8, 1);
  assert_close (curve->critical, 5.438213, 0.15 * 5.438213);
}

static void
sides_changed_change_the_sign_alone (void **state)
{
  Side reference, other;
  make_side (&reference, 4, 10, 0.1, 5);
  make_side (&other, 6, 11, 0.2, 6);
  g_autoptr (SbDifferenceCurve) there = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  g_autoptr (SbDifferenceCurve) back = curve_of (&other, &reference, SB_CHANNEL_TORQUE);
  for (gsize k = 0; k < N; k++)
    assert_close (back->difference[k], -there->difference[k], 0);
  assert_close (back->half_pointwise[N - 1], there->half_pointwise[N - 1], 1e-9);
  assert_close (back->critical, there->critical, 0.1 * there->critical); /* other draws */
}

static void
same_repeats_give_the_same_bytes (void **state)
{
  Side reference, other;
  make_side (&reference, 5, 10, 0.3, 7);
  make_side (&other, 5, 10.2, 0.3, 8);
  g_autoptr (SbDifferenceCurve) first = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  g_autoptr (SbDifferenceCurve) again = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  assert_memory_equal (&first->critical, &again->critical, sizeof first->critical);
  assert_memory_equal (first->half_simultaneous + ONSET, again->half_simultaneous + ONSET,
                       (N - ONSET) * sizeof *first->half_simultaneous);
}

/* The other side logs half as often: its grid step is the curve's, and levels are what they were. */
static void
unequal_sample_rates_meet_on_the_coarser_grid (void **state)
{
  Side reference, other = { .n = 3 };
  MadeNoise noise = { 0x9e3779b97f4a7c15u };
  make_side (&reference, 3, 10, 0.01, 9);
  for (gsize i = 0; i < 3; i++)
    other.trial[i] = level_trial (51, 2 * INTERVAL, 12, 0.01, &noise);
  g_autoptr (SbDifferenceCurve) curve = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
  assert_true (curve->present);
  assert_close (curve->step_s, 2 * INTERVAL, 1e-12);
  assert_close (sb_difference_curve_time (curve, 0), -ONSET * INTERVAL, 1e-9);
  assert_close (curve->difference[curve->n_points - 1], 2, 0.05);
}

/* A drive that rises by 1 N·m/ms after 4 ms, its command anywhere within a sample interval. */
static SbTrial *
rising_trial (double interval_s, double top, MadeNoise *noise)
{
  gsize n = (gsize) (0.1 / interval_s), onset = n / 5;
  double before_s = interval_s * made_uniform (noise);
  MadeLog log = make_step_log (made, n, onset, interval_s, 10);
  log.torque = make_column (made, n);
  for (gsize i = 0; i < n; i++)
    log.torque[i] = CLAMP (1e3 * (log.t[i] + before_s - 4e-3), 0, top) + 0.02 * made_normal (noise);
  return make_trial (made, &log, NULL);
}

/* The same drive at 10 and at 1 kHz is apart by half a millisecond of its rise, which is the sampling's; one that comes
 * to 11 instead of 10 N·m differs, but for the rise. */
static void
what_a_shift_by_a_sample_interval_makes_is_no_difference (void **state)
{
  static const double tops[] = { 10, 11 };
  for (gsize c = 0; c < G_N_ELEMENTS (tops); c++) {
    Side reference = { .n = 10 }, other = { .n = 10 };
    MadeNoise noise = { 41 };
    for (gsize i = 0; i < 10; i++) {
      reference.trial[i] = rising_trial (1e-4, 10, &noise);
      other.trial[i] = rising_trial (1e-3, tops[c], &noise);
    }
    g_autoptr (SbDifferenceCurve) curve = curve_of (&reference, &other, SB_CHANNEL_TORQUE);
    assert_close (curve->shift_s[0], -1e-4, 1e-12);
    assert_close (curve->shift_s[1], 1e-3, 1e-12);
    assert_int_equal (curve->stretches->len, c);
    if (c == 1)
      assert_true (g_array_index (curve->stretches, SbDifferenceStretch, 0).from_s > 13e-3);
    g_autoptr (SbDifferenceCurve) alike = curve_of (&other, &other, SB_CHANNEL_TORQUE);
    assert_null (alike->by_shift[0]);
  }
}

static void
without_repeats_channel_or_scatter_it_is_absent_with_a_reason (void **state)
{
  Side one, two, same;
  make_side (&one, 1, 10, 0.1, 10);
  make_side (&two, 2, 10, 0.1, 11);
  make_side (&same, 2, 10, 0, 12);
  g_autoptr (SbDifferenceCurve) lone = curve_of (&one, &two, SB_CHANNEL_TORQUE);
  g_autoptr (SbDifferenceCurve) channel = curve_of (&two, &two, SB_CHANNEL_ANGLE);
  g_autoptr (SbDifferenceCurve) still = curve_of (&same, &same, SB_CHANNEL_TORQUE);
  assert_false (lone->present || channel->present || still->present);
  assert_string_equal (lone->absent_reason, "needs two repeats on either side; there are 1 and 2");
  assert_non_null (strstr (channel->absent_reason, "channel"));
  assert_non_null (strstr (still->absent_reason, "without scatter"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (a_difference_far_beyond_the_scatter_is_one_stretch),
    cmocka_unit_test (pointwise_band_is_welchs_interval),
    cmocka_unit_test (one_deviation_for_all_instants_needs_no_wider_band),
    cmocka_unit_test (two_repeats_a_side_have_bonferronis_bound),
    cmocka_unit_test (noise_that_is_new_at_each_instant_needs_nearly_bonferroni),
    cmocka_unit_test (sides_changed_change_the_sign_alone),
    cmocka_unit_test (same_repeats_give_the_same_bytes),
    cmocka_unit_test (unequal_sample_rates_meet_on_the_coarser_grid),
    cmocka_unit_test (what_a_shift_by_a_sample_interval_makes_is_no_difference),
    cmocka_unit_test (without_repeats_channel_or_scatter_it_is_absent_with_a_reason),
  };
  return cmocka_run_group_tests_name ("difference curve", tests, setup, teardown);
}
