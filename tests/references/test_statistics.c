/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mean, standard deviation, Student's t and Welch's test against published values; sources in data/README.md. */
#include "comparison.h"
#include "statistics.h"
#include "table.h"

/* What doubles can hold of NumAcc3 and NumAcc4, whose 1000000.2 and 10000000.2 have no exact double: exact rational
 * arithmetic (Python's fractions) on the rounded input gives these autocorrelations, 12.2 and 11.0 digits of -0.999. */
static double
lag1_of_rounded_input (const char *name)
{
  return g_str_equal (name, "NumAcc3") ? -0.9989999999994185049 : -0.9989999999906960781;
}

/* Relative errors: 14 digits of the mean, 13 of the deviation and of the lag-1 autocorrelation, but for what the
 * rounding of the input takes from NumAcc3 and NumAcc4. */
static void
nist_univariate_sets_are_met_to_their_digits (void **state)
{
  g_autoptr (GPtrArray) certified = table_read ("nist-strd/univariate_certified.csv");
  assert_int_equal (certified->len, 9);
  for (guint i = 0; i < certified->len; i++) {
    const char *name = ((char **) g_ptr_array_index (certified, i))[0];
    g_autofree char *file = g_strdup_printf ("nist-strd/%s.csv", name);
    g_autoptr (GPtrArray) rows = table_read (file);
    g_autofree double *y = table_column (rows, 0);
    gboolean rounded_input = g_str_equal (name, "NumAcc3") || g_str_equal (name, "NumAcc4");
    print_message ("           %s\n", name);
    assert_int_equal (rows->len, (int) table_number (certified, i, 1));
    assert_close_relative (sb_mean (y, rows->len), table_number (certified, i, 2), 1e-14);
    assert_close_relative (sb_sd (y, rows->len), table_number (certified, i, 3), rounded_input ? 1e-8 : 1e-13);
    double lag1 = sb_lag1_autocorrelation (y, rows->len);
    assert_close_relative (lag1, table_number (certified, i, 4), rounded_input ? 1e-11 : 1e-13);
    if (rounded_input)
      assert_close_relative (lag1, lag1_of_rounded_input (name), 1e-13);
  }
}

/* Tables print three decimals. The last row is the normal distribution: a million degrees of freedom are within 3e-6.
 */
static void
student_t_agrees_with_the_printed_table (void **state)
{
  static const double shares[] = { 0.95, 0.975, 0.995 };
  g_autoptr (GPtrArray) rows = table_read ("t_critical.csv");
  assert_int_equal (rows->len, 16);
  for (guint i = 0; i < rows->len; i++) {
    double df = table_number (rows, i, 0);
    for (guint k = 0; k < 3; k++)
      assert_close (sb_student_t (shares[k], isinf (df) ? 1e6 : df), table_number (rows, i, k + 1), 5.1e-4);
  }
}

/* GUM 4.4.3 (from memory): mean 100.145 °C, s 1.489 °C, u = s / sqrt (20) = 0.333 °C, to the digits printed. */
static void
gum_thermometer_gives_the_printed_type_a_figures (void **state)
{
  g_autoptr (GPtrArray) rows = table_read ("gum_4_4_3.csv");
  g_autofree double *y = table_column (rows, 0);
  assert_int_equal (rows->len, 20);
  double s = sb_sd (y, 20);
  assert_close (sb_mean (y, 20), 100.145, 5e-4);
  assert_close (s, 1.489, 5e-4);
  assert_close (s / sqrt (20), 0.333, 5e-4);
  /* The factor of 19 degrees of freedom at 95 %, 2.093 in every table (from memory). */
  assert_close (sb_mean_half_width (s, 20, 0.95), 2.093 * s / sqrt (20), 5e-4 * s / sqrt (20));
}

/* Student 1908, as R's data set `sleep`: t = -1.8608, df = 17.776, p = 0.07939 read in an R cookbook page; the interval
 * from memory. R subtracts the second group from the first. */
static void
welch_on_hours_of_sleep_gives_what_r_prints (void **state)
{
  static const double first[] = { 0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0 };
  static const double second[] = { 1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4 };
  SbWelch welch;
  assert_true (
      sb_welch (sb_mean (second, 10), sb_sd (second, 10), 10, sb_mean (first, 10), sb_sd (first, 10), 10, &welch));
  assert_close (welch.t, -1.8608, 5e-5);
  assert_close (welch.df, 17.776, 5e-4);
  assert_close (welch.p, 0.07939, 5e-6);
  assert_close (welch.ci95[0], -3.3654832, 5e-8);
  assert_close (welch.ci95[1], 0.2054832, 5e-8);
}

/* NIST/SEMATECH e-Handbook 1.3.5.3, AUTO83B, unequal variances (from memory). */
static void
welch_on_miles_per_gallon_gives_what_nist_prints (void **state)
{
  SbWelch welch;
  assert_true (sb_welch (30.48101, 6.10771, 79, 20.14458, 6.41470, 249, &welch));
  assert_close (welch.t, -12.94627, 5e-6);
  assert_close (welch.df, 136.8750, 5e-5);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (nist_univariate_sets_are_met_to_their_digits),
    cmocka_unit_test (student_t_agrees_with_the_printed_table),
    cmocka_unit_test (gum_thermometer_gives_the_printed_type_a_figures),
    cmocka_unit_test (welch_on_hours_of_sleep_gives_what_r_prints),
    cmocka_unit_test (welch_on_miles_per_gallon_gives_what_nist_prints),
  };
  return cmocka_run_group_tests_name ("published statistics", tests, NULL, NULL);
}
