/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bands of five constant repeats, 1 2 4 7 11: mean 5, squares 16 + 9 + 1 + 4 + 36 = 66, s = sqrt (66 / 4). */
#include "repeats.h"

#define TORQUE SB_CHANNEL_TORQUE

static const double levels[] = { 4, 1, 11, 2, 7 };

static double
constant (double tau_s, double parameter)
{
  return parameter;
}

static void
add_levels (Repeats *r, gsize n)
{
  for (gsize i = 0; i < n; i++)
    repeats_add (r, &(Repeat){ .onset_s = 1,
                               .begin_s = -0.1,
                               .end_s = i == 0 ? 0.5 : 0.4,
                               .interval_s = 0.01,
                               .torque = constant,
                               .parameter = levels[i] });
}

static void
assert_band (Repeats *r, const SbEnsemble *e, SbBandKind band, double k, double lower, double upper)
{
  double *low = repeats_array (r, e->n_points), *high = repeats_array (r, e->n_points);
  assert_true (sb_ensemble_band (e, TORQUE, band, k, low, high));
  for (gsize i = 0; i < e->n_points; i++) {
    assert_close (low[i], lower, 1e-9);
    assert_close (high[i], upper, 1e-9);
  }
}

static void
bands_agree_with_hand_calculation (void **state)
{
  Repeats *r = *state;
  double s = sqrt (66 / 4.0);
  add_levels (r, 5);
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_band (r, e, SB_BAND_SD, 1, 5 - s, 5 + s);
  assert_band (r, e, SB_BAND_SD, 2, 5 - 2 * s, 5 + 2 * s);
  assert_band (r, e, SB_BAND_RANGE, 1, 1, 11);
  assert_band (r, e, SB_BAND_QUARTILES, 1, 2, 7); /* the second and the fourth of five */
}

/* Three repeats, 1 4 11: two degrees of freedom, for which t has the closed form (2p - 1) / sqrt (2p (1 - p)). */
static void
confidence_band_is_of_the_mean (void **state)
{
  Repeats *r = *state;
  double mean = 16 / 3.0, s = sqrt ((1 + 16 + 121 - 3 * mean * mean) / 2);
  double half = 0.95 / sqrt (2 * 0.975 * 0.025) * s / sqrt (3);
  add_levels (r, 3);
  assert_band (r, repeats_average (r, SB_SPAN_COMMON), SB_BAND_CONFIDENCE, 1, mean - half, mean + half);
}

/* 4 and 1: a quarter of the way in from either, t of one degree of freedom is tan (0.475 pi). */
static void
bands_of_two_repeats_exist (void **state)
{
  Repeats *r = *state;
  double half = tan (0.475 * G_PI) * sqrt (4.5) / sqrt (2);
  add_levels (r, 2);
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  assert_band (r, e, SB_BAND_QUARTILES, 1, 1.75, 3.25);
  assert_band (r, e, SB_BAND_CONFIDENCE, 1, 2.5 - half, 2.5 + half);
}

/* The first trial alone goes on to 0.5 s. */
static void
union_bands_have_no_value_where_one_trial_is_alone (void **state)
{
  Repeats *r = *state;
  add_levels (r, 5);
  SbEnsemble *e = repeats_average (r, SB_SPAN_UNION);
  double *lower = repeats_array (r, e->n_points), *upper = repeats_array (r, e->n_points);
  for (int band = 0; band < SB_N_BANDS; band++) {
    assert_true (sb_ensemble_band (e, TORQUE, (SbBandKind) band, 1, lower, upper));
    assert_true (isnan (lower[e->n_points - 1]) && isnan (upper[e->n_points - 1]));
    assert_true (lower[0] < 5 && upper[0] > 5);
  }
}

static void
one_trial_has_no_band_and_outputs_are_left_alone (void **state)
{
  Repeats *r = *state;
  add_levels (r, 1);
  SbEnsemble *e = repeats_average (r, SB_SPAN_COMMON);
  double *lower = repeats_array (r, e->n_points), *upper = repeats_array (r, e->n_points);
  lower[0] = upper[0] = 42;
  for (int band = 0; band < SB_N_BANDS; band++)
    assert_false (sb_ensemble_band (e, TORQUE, (SbBandKind) band, 1, lower, upper));
  assert_close (lower[0], 42, 0);
  assert_close (upper[0], 42, 0);
}

static void
quartiles_need_kept_trials_and_a_channel_its_curve (void **state)
{
  Repeats *r = *state;
  add_levels (r, 5);
  SbEnsembleBuilder *builder = sb_ensemble_builder_new (0.01, SB_SPAN_COMMON, ALL_CHANNELS, FALSE);
  for (guint i = 0; i < 5; i++)
    sb_ensemble_builder_add (builder, g_ptr_array_index (r->trials, i));
  SbEnsemble *e = r->ensemble = sb_ensemble_builder_finish (builder);
  double *lower = repeats_array (r, e->n_points), *upper = repeats_array (r, e->n_points);
  assert_null (e->kept);
  assert_false (sb_ensemble_band (e, TORQUE, SB_BAND_QUARTILES, 1, lower, upper));
  assert_true (sb_ensemble_band (e, TORQUE, SB_BAND_RANGE, 1, lower, upper));
  assert_false (sb_ensemble_band (e, SB_CHANNEL_VELOCITY, SB_BAND_RANGE, 1, lower, upper));
}

static void
bands_are_told_in_words (void **state)
{
  static const struct {
    SbBandKind band;
    double k;
    const char *words;
  } cases[] = {
    { SB_BAND_SD, 1, "mean ± 1 standard deviation" },         { SB_BAND_SD, 2.5, "mean ± 2.5 standard deviations" },
    { SB_BAND_CONFIDENCE, 1, "95 % confidence of the mean" }, { SB_BAND_RANGE, 1, "smallest to largest" },
    { SB_BAND_QUARTILES, 1, "first to third quartile" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *words = sb_band_words (cases[i].band, cases[i].k);
    assert_string_equal (words, cases[i].words);
  }
  assert_string_equal (sb_band_key (SB_BAND_SD), "sd");
  assert_string_equal (sb_band_key (SB_BAND_CONFIDENCE), "confidence");
  assert_string_equal (sb_band_key (SB_BAND_RANGE), "range");
  assert_string_equal (sb_band_key (SB_BAND_QUARTILES), "quartiles");
}

#define BAND_TEST(name) cmocka_unit_test_setup_teardown (name, repeats_setup, repeats_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    BAND_TEST (bands_agree_with_hand_calculation),
    BAND_TEST (confidence_band_is_of_the_mean),
    BAND_TEST (bands_of_two_repeats_exist),
    BAND_TEST (union_bands_have_no_value_where_one_trial_is_alone),
    BAND_TEST (one_trial_has_no_band_and_outputs_are_left_alone),
    BAND_TEST (quartiles_need_kept_trials_and_a_channel_its_curve),
    cmocka_unit_test (bands_are_told_in_words),
  };
  return cmocka_run_group_tests_name ("band", tests, NULL, NULL);
}
