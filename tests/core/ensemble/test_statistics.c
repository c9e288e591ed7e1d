/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scalar statistics against algebra. The published sets are in tests/references. */
#include "close.h"
#include "statistics.h"

/* (1 + 2 + 3 + 4) / 4, and squares 2 (1.5² + 0.5²) = 5 over 3. */
static void
mean_and_sd_of_four_numbers (void **state)
{
  static const double x[] = { 1, 2, 3, 4 };
  assert_close (sb_mean (x, 4), 2.5, 0);
  assert_close (sb_sd (x, 4), sqrt (5.0 / 3), 1e-16);
}

/* Distances from the mean are -6, -3, 3, 6: variance 90 / 3 = 30, whatever is added to all. */
static void
sd_does_not_feel_a_large_offset (void **state)
{
  static const double offsets[] = { 0, 1e6, 1e9, 1e12 };
  for (gsize i = 0; i < G_N_ELEMENTS (offsets); i++) {
    double x[] = { offsets[i] + 4, offsets[i] + 7, offsets[i] + 13, offsets[i] + 16 };
    assert_close (sb_mean (x, 4), offsets[i] + 10, 0);
    assert_close_relative (sb_sd (x, 4), sqrt (30), 1e-15);
  }
}

/* 1 + 2^-53 rounds to 1: a plain sum would lose all the small ones. */
static void
mean_keeps_what_plain_sums_round_off (void **state)
{
  double x[1025] = { 1 };
  for (int i = 1; i <= 1024; i++)
    x[i] = 0x1p-53;
  assert_close (sb_mean (x, 1025), (1 + 0x1p-43) / 1025, 1e-19);
}

/* 1 2 3 4 about 2.5: (1.5 * 0.5 - 0.5 * 0.5 + 0.5 * 1.5) / 5 = 1/4, whatever is added to all; a value that alternates
 * an even number of times n: -(n - 1) / n. */
static void
lag1_autocorrelation_of_small_sets (void **state)
{
  static const double x[] = { 1, 2, 3, 4 }, far[] = { 1e12 + 1, 1e12 + 2, 1e12 + 3, 1e12 + 4 };
  static const double alternating[] = { 1, -1, 1, -1, 1, -1 }, equal[] = { 3, 3, 3 };
  assert_close (sb_lag1_autocorrelation (x, 4), 0.25, 1e-15);
  assert_close (sb_lag1_autocorrelation (far, 4), 0.25, 1e-15);
  assert_close (sb_lag1_autocorrelation (alternating, 6), -5.0 / 6, 1e-15);
  assert_true (isnan (sb_lag1_autocorrelation (equal, 3)));
  assert_true (isnan (sb_lag1_autocorrelation (x, 1)));
}

static void
one_number_has_no_sd (void **state)
{
  double x = 3;
  assert_close (sb_mean (&x, 1), 3, 0);
  assert_true (isnan (sb_sd (&x, 1)));
  assert_true (isnan (sb_mean_half_width (1, 1, 0.95)));
}

/* Type 7 of Hyndman & Fan 1996: place p (n - 1) among the ordered values. */
static void
quantiles_lie_between_order_statistics (void **state)
{
  double x[] = { 40, 10, 30, 20 };
  assert_close (sb_quantile (x, 4, 0), 10, 0);
  assert_close (sb_quantile (x, 4, 0.25), 17.5, 1e-14);
  assert_close (sb_quantile (x, 4, 0.5), 25, 1e-14);
  assert_close (sb_quantile (x, 4, 0.75), 32.5, 1e-14);
  assert_close (sb_quantile (x, 4, 1), 40, 0);
  double one = 7;
  assert_close (sb_quantile (&one, 1, 0.25), 7, 0);
}

/* One degree of freedom is Cauchy's distribution, t = tan (pi (p - 1/2)); two have t = (2p - 1) / sqrt (2p (1 - p)). */
static void
student_t_has_closed_forms_for_one_and_two_degrees_of_freedom (void **state)
{
  static const double shares[] = { 0.025, 0.3, 0.5, 0.75, 0.95, 0.975, 0.995 };
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++) {
    double p = shares[i];
    assert_close (sb_student_t (p, 1), tan (G_PI * (p - 0.5)), 1e-10 * (1 + fabs (tan (G_PI * (p - 0.5)))));
    assert_close (sb_student_t (p, 2), (2 * p - 1) / sqrt (2 * p * (1 - p)), 1e-10);
  }
}

/* Three values, so two degrees of freedom; p = 0.975 in the closed form above. */
static void
half_width_is_t_times_sd_over_root_n (void **state)
{
  double t = 0.95 / sqrt (2 * 0.975 * 0.025);
  assert_close_relative (sb_mean_half_width (6, 3, 0.95), t * 6 / sqrt (3), 1e-10);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (mean_and_sd_of_four_numbers),
    cmocka_unit_test (sd_does_not_feel_a_large_offset),
    cmocka_unit_test (mean_keeps_what_plain_sums_round_off),
    cmocka_unit_test (lag1_autocorrelation_of_small_sets),
    cmocka_unit_test (one_number_has_no_sd),
    cmocka_unit_test (quantiles_lie_between_order_statistics),
    cmocka_unit_test (student_t_has_closed_forms_for_one_and_two_degrees_of_freedom),
    cmocka_unit_test (half_width_is_t_times_sd_over_root_n),
  };
  return cmocka_run_group_tests_name ("statistics", tests, NULL, NULL);
}
