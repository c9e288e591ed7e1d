/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mann's and Kendall's test of a trend in time, of few values: p is that of Kendall's distribution, by counting. */
#include "trend.h"

#include "close.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* The orders of n values are n!. All falling is one of them; one pair rising are n - 1 of them, two are (n - 2)(n +
 * 1)/2. Tables of Kendall's S print one-sided 0.042 for n = 5, S = 8 and 0.028 for n = 6, S = 11, which have one and
 * two such pairs; all falling of seven is 1/5040. */
static void
few_values_have_the_exact_p_of_kendall (void **state)
{
  static const double order[] = { 1, 2, 3, 4, 5, 6, 7 };
  static const struct {
    gsize n;
    double values[7], statistic, p;
  } cases[] = {
    { 5, { 1, 3, 2, 4, 5 }, 9, 2 * 5.0 / 120 },
    { 6, { 1, 3, 2, 4, 6, 5 }, 13, 2 * 20.0 / 720 },
    { 7, { 7, 6, 5, 4, 3, 2, 1 }, 0, 2 * 1.0 / 5040 },
    { 7, { 1, 2, 3, 4, 5, 6, 7 }, 21, 2 * 1.0 / 5040 },
    { 4, { 4, 3, 2, 1 }, 0, 2 * 1.0 / 24 },
    { 3, { 1, 3, 2 }, 2, 1 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    SbJonckheere test;
    assert_true (sb_jonckheere (order, cases[i].values, cases[i].n, &test));
    assert_close (test.statistic, cases[i].statistic, 0);
    assert_close (test.p, cases[i].p, 1e-12);
  }
}

/* Eight values, and seven with a tie, are judged by the normal approximation, half a pair nearer to the mean: all 28
 * pairs of eight fall, of which 14 are expected with a variance of 8 · 7 · 21 / 72 = 16.33. */
static void
more_values_and_ties_are_judged_by_the_normal_approximation (void **state)
{
  static const double order[] = { 1, 2, 3, 4, 5, 6, 7, 8 }, falls[] = { 8, 7, 6, 5, 4, 3, 2, 1 };
  static const double tied[] = { 1, 1, 2, 3, 4, 5, 6 };
  SbJonckheere test;
  assert_true (sb_jonckheere (order, falls, 8, &test));
  assert_close (test.p, 2 * gsl_cdf_ugaussian_Q (13.5 / sqrt (8 * 7 * 21 / 72.0)), 1e-12);
  assert_true (sb_jonckheere (order, tied, 7, &test));
  assert_close (test.p, 2 * gsl_cdf_ugaussian_Q (fabs (test.z)), 1e-12);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (few_values_have_the_exact_p_of_kendall),
    cmocka_unit_test (more_values_and_ties_are_judged_by_the_normal_approximation),
  };
  return cmocka_run_group_tests_name ("trend", tests, NULL, NULL);
}
