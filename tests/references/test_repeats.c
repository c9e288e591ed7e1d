/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlying repeats and trends against published values, a reference library and exhaustive counting; sources of the
 * tables in data/README.md. */
#include "outlying.h"
#include "table.h"
#include "trend.h"

/* NIST/SEMATECH e-Handbook 1.3.5.17.1: G = 2.4687 (cut, not rounded: exact 2.46876). The two-sided critical value from
 * SciPy 1.10.1's Student t; a public library's test of the same data has 2.1266465543, good to six digits. */
static void
grubbs_on_uranium_gives_what_nist_prints (void **state)
{
  static const double y[] = { 199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57 };
  SbOutlying found;
  assert_true (sb_grubbs (y, 8, 0.05, &found));
  assert_int_equal (found.index, 7);
  assert_close (found.statistic, 2.46876, 5e-6);
  assert_close (found.critical, 2.126645087195628, 1e-12);
  assert_close (found.critical, 2.1266465543, 2e-6);
}

/* Two-sided at alpha is one-sided at alpha / 2. The table's 2.5 and 1 % columns are this test's 5 and 2 %; printed to
 * three decimals, some a unit off. */
static void
grubbs_critical_values_agree_with_the_printed_table (void **state)
{
  g_autoptr (GPtrArray) rows = table_read ("grubbs_critical.csv");
  assert_int_equal (rows->len, 10);
  for (guint i = 0; i < rows->len; i++) {
    gsize n = (gsize) table_number (rows, i, 0);
    g_autofree double *y = g_new0 (double, n);
    y[0] = 1;
    SbOutlying at5, at2;
    sb_grubbs (y, n, 0.05, &at5);
    sb_grubbs (y, n, 0.02, &at2);
    assert_close (at5.critical, table_number (rows, i, 2), 0.0011);
    assert_close (at2.critical, table_number (rows, i, 3), 0.0011);
  }
}

/* Rosner 1983: three outliers, although the first statistic is below its critical value. */
static void
generalized_esd_on_rosners_data_gives_the_printed_steps (void **state)
{
  g_autoptr (GPtrArray) rows = table_read ("rosner54.csv"), steps = table_read ("rosner_result.csv");
  g_autofree double *y = table_column (rows, 0);
  SbOutlying found[10];
  assert_int_equal (rows->len, 54);
  assert_int_equal (steps->len, 7);
  assert_int_equal (sb_generalized_esd (y, 54, 10, 0.05, found), 3);
  for (guint i = 0; i < steps->len; i++) {
    assert_close (found[i].statistic, table_number (steps, i, 1), 5.1e-7);
    assert_close (found[i].critical, table_number (steps, i, 2), 5.1e-7);
  }
  assert_close (y[found[0].index], 6.01, 0);
  assert_close (y[found[1].index], 5.42, 0);
  assert_close (y[found[2].index], 5.34, 0);
}

/* SciPy 1.10.1, scipy.stats.theilslopes (y, x, 0.95), without and with ties. */
static void
theil_sen_agrees_with_scipy (void **state)
{
  static const double x[] = { 0, 1, 2, 3, 4, 5, 6, 7, 8, 9 };
  static const double y[] = { 0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0 };
  static const double group[] = { 1, 1, 1, 2, 2, 3, 3, 3, 4, 4, 4, 4 };
  static const double value[] = { 2.1, 2.5, 2.2, 2.5, 3.0, 2.9, 3.4, 3.0, 3.1, 4.0, 3.9, 3.0 };
  SbTheilSen trend;
  assert_true (sb_theil_sen (x, y, 10, &trend));
  assert_close (trend.slope, 0.3, 1e-14);
  assert_close (trend.intercept, -1, 1e-14);
  assert_close (trend.ci95[0], -0.2, 1e-14);
  assert_close (trend.ci95[1], 0.6, 1e-14);
  assert_true (sb_theil_sen (group, value, 12, &trend));
  assert_close (trend.slope, 0.4, 1e-14);
  assert_close (trend.intercept, 1.8, 1e-14);
  assert_close (trend.ci95[0], 0.2, 1e-14);
  assert_close (trend.ci95[1], 0.6, 1e-14);
}

/* Hollander & Wolfe 1999, table 6.6, motivational effect of knowledge of performance (data and J = 79 from memory);
 * without a trend 3 * 36 / 2 pairs rise. */
static void
jonckheere_on_knowledge_of_performance_counts_the_printed_pairs (void **state)
{
  static const double value[] = { 40, 35, 38, 43, 44, 41, 38, 40, 47, 44, 40, 42, 48, 40, 45, 43, 46, 44 };
  double level[18];
  for (int i = 0; i < 18; i++)
    level[i] = i / 6;
  SbJonckheere test;
  assert_true (sb_jonckheere (level, value, 18, &test));
  assert_close (test.statistic, 79, 0);
  assert_close (test.expected, 54, 0);
}

/* Counts rising pairs over all orders of the values: Heap's algorithm. */
static void
visit_orders (double *value, gsize k, const double *level, gsize n, double sums[3])
{
  if (k > 1) {
    for (gsize i = 0; i < k; i++) {
      visit_orders (value, k - 1, level, n, sums);
      gsize j = k % 2 == 0 ? i : 0;
      double held = value[j];
      value[j] = value[k - 1];
      value[k - 1] = held;
    }
    return;
  }
  SbJonckheere test;
  assert_true (sb_jonckheere (level, value, n, &test));
  sums[0] += 1;
  sums[1] += test.statistic;
  sums[2] += test.statistic * test.statistic;
}

/* When the levels say nothing every order of the values is as likely: mean and variance over all 5,040 of them. */
static void
jonckheere_has_the_mean_and_variance_of_all_orders (void **state)
{
  static const double level[] = { 1, 1, 2, 2, 2, 5, 5 };
  double value[] = { 3, 1, 4, 1, 5, 1, 4 };
  double sums[3] = { 0 };
  visit_orders (value, 7, level, 7, sums);
  SbJonckheere test;
  assert_true (sb_jonckheere (level, value, 7, &test));
  assert_close (sums[0], 5040, 0);
  assert_close (test.expected, sums[1] / sums[0], 1e-12);
  assert_close (test.sd * test.sd, sums[2] / sums[0] - test.expected * test.expected, 1e-10);
}

/* Ten rising values: all 45 pairs rise, variance n (n - 1) (2n + 5) / 72 = 31.25, z = (22.5 - 0.5) / sqrt (31.25), and
 * the normal distribution's two tails beyond 3.9355 are 8.30e-5 (any table). */
static void
every_value_at_its_own_level_is_a_test_of_a_trend_in_time (void **state)
{
  double x[10];
  for (int i = 0; i < 10; i++)
    x[i] = i;
  SbJonckheere test;
  assert_true (sb_jonckheere (x, x, 10, &test));
  assert_close (test.statistic, 45, 0);
  assert_close (test.sd * test.sd, 31.25, 1e-12);
  assert_close (test.z, 22 / sqrt (31.25), 1e-12);
  assert_close (test.p, erfc (test.z / sqrt (2)), 1e-12);
}

static void
what_has_no_scatter_or_no_levels_has_no_answer (void **state)
{
  static const double same[] = { 2, 2, 2, 2, 2, 2, 2, 2 }, rising[] = { 1, 2, 3, 4, 5, 6, 7, 8 };
  SbOutlying found[SB_MAX_OUTLYING];
  SbTheilSen trend;
  SbJonckheere test;
  assert_false (sb_grubbs (same, 8, 0.05, found));
  assert_int_equal (sb_generalized_esd (same, 8, 3, 0.05, found), 0);
  assert_int_equal (sb_generalized_esd (rising, 4, 3, 0.05, found), 0);
  assert_false (sb_theil_sen (same, rising, 8, &trend));
  assert_false (sb_theil_sen (rising, rising, 2, &trend));
  assert_false (sb_jonckheere (same, rising, 8, &test));
  assert_false (sb_jonckheere (rising, same, 8, &test));
}

/* Six repeats are too few for Grubbs by the definition; seven are enough; from fifteen on two may stand apart. */
static void
the_test_follows_the_number_of_repeats (void **state)
{
  double y[20];
  for (int i = 0; i < 20; i++)
    y[i] = (i % 5) * 0.1;
  SbOutlying found[SB_MAX_OUTLYING];
  y[2] = 50;
  assert_int_equal (sb_outlying_find (y, 6, 0.05, found), 0);
  assert_int_equal (sb_outlying_find (y, 7, 0.05, found), 1);
  assert_int_equal (found[0].index, 2);
  y[11] = -40;
  assert_int_equal (sb_outlying_find (y, 20, 0.05, found), 2);
  assert_int_equal (found[1].index, 11);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (grubbs_on_uranium_gives_what_nist_prints),
    cmocka_unit_test (grubbs_critical_values_agree_with_the_printed_table),
    cmocka_unit_test (generalized_esd_on_rosners_data_gives_the_printed_steps),
    cmocka_unit_test (theil_sen_agrees_with_scipy),
    cmocka_unit_test (jonckheere_on_knowledge_of_performance_counts_the_printed_pairs),
    cmocka_unit_test (jonckheere_has_the_mean_and_variance_of_all_orders),
    cmocka_unit_test (every_value_at_its_own_level_is_a_test_of_a_trend_in_time),
    cmocka_unit_test (what_has_no_scatter_or_no_levels_has_no_answer),
    cmocka_unit_test (the_test_follows_the_number_of_repeats),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
