/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Welch's interval and Holm's correction by algebra. The published examples are in tests/references. */
#include "close.h"
#include "comparison.h"

/* Two pairs with s = 1: u = v = 1/2, so the error is 1 and df = 1 / (1/4 + 1/4) = 2, where Student's distribution has
 * closed forms: p = 1 - t / sqrt (t² + 2), and t (P) = (2P - 1) / sqrt (2P (1 - P)). */
static void
two_pairs_of_equal_scatter_have_closed_forms (void **state)
{
  SbWelch welch;
  assert_true (sb_welch (100, 1, 2, 103, 1, 2, &welch));
  double half95 = 0.95 / sqrt (2 * 0.975 * 0.025), half90 = 0.9 / sqrt (2 * 0.95 * 0.05);
  assert_close (welch.difference, 3, 0);
  assert_close (welch.standard_error, 1, 1e-15);
  assert_close (welch.df, 2, 1e-14);
  assert_close (welch.t, 3, 1e-14);
  assert_close (welch.p, 1 - 3 / sqrt (11), 1e-12);
  assert_close (welch.ci95[0], 3 - half95, 1e-9);
  assert_close (welch.ci95[1], 3 + half95, 1e-9);
  assert_close (welch.ci90[0], 3 - half90, 1e-9);
  assert_close (welch.ci90[1], 3 + half90, 1e-9);
}

static void
changing_sides_changes_the_sign_alone (void **state)
{
  SbWelch there, back;
  assert_true (sb_welch (10, 2, 5, 13, 0.5, 9, &there));
  assert_true (sb_welch (13, 0.5, 9, 10, 2, 5, &back));
  assert_close (back.difference, -there.difference, 0);
  assert_close (back.p, there.p, 1e-15);
  assert_close (back.df, there.df, 1e-12);
  assert_close (back.ci95[0], -there.ci95[1], 1e-12);
}

/* Then the degrees of freedom are those of the side that scatters. */
static void
one_side_without_scatter_is_compared (void **state)
{
  SbWelch welch;
  assert_true (sb_welch (10, 0, 7, 12, 3, 4, &welch));
  assert_close (welch.df, 3, 1e-14);
  assert_close (welch.standard_error, 1.5, 1e-15);
}

/* Squares of 10^-170 are below the smallest double. */
static void
tiny_scatter_keeps_its_degrees_of_freedom (void **state)
{
  SbWelch welch;
  assert_true (sb_welch (0, 1e-100, 2, 0, 1e-100, 2, &welch));
  assert_close (welch.df, 2, 1e-12);
  assert_close (welch.p, 1, 1e-12);
}

static void
without_repeats_or_scatter_nothing_is_written (void **state)
{
  SbWelch welch = { .difference = 42 };
  assert_false (sb_welch (1, 1, 1, 2, 1, 5, &welch));
  assert_false (sb_welch (1, 1, 5, 2, 1, 1, &welch));
  assert_false (sb_welch (1, 0, 5, 2, 0, 5, &welch));
  assert_false (sb_welch (1, (double) NAN, 5, 2, 1, 5, &welch));
  assert_close (welch.difference, 42, 0);
}

/* By hand: in rising order 0.005 · 4 = 0.02, 0.01 · 3 = 0.03, 0.03 · 2 = 0.06, 0.04 · 1 = 0.04, raised to 0.06 so that
 * the order is kept. */
static void
holm_raises_each_p_by_its_rank (void **state)
{
  double p[] = { 0.01, 0.04, 0.03, 0.005 };
  sb_holm (p, 4);
  assert_close (p[0], 0.03, 1e-15);
  assert_close (p[1], 0.06, 1e-15);
  assert_close (p[2], 0.06, 1e-15);
  assert_close (p[3], 0.02, 1e-15);
}

static void
holm_stops_at_one_and_leaves_a_single_p (void **state)
{
  double p[] = { 0.9, 0.5, 0.6 }, one = 0.04;
  sb_holm (p, 3);
  for (gsize i = 0; i < 3; i++)
    assert_close (p[i], 1, 0);
  sb_holm (&one, 1);
  assert_close (one, 0.04, 0);
  sb_holm (&one, 0);
  assert_close (one, 0.04, 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (two_pairs_of_equal_scatter_have_closed_forms),
    cmocka_unit_test (changing_sides_changes_the_sign_alone),
    cmocka_unit_test (one_side_without_scatter_is_compared),
    cmocka_unit_test (tiny_scatter_keeps_its_degrees_of_freedom),
    cmocka_unit_test (without_repeats_or_scatter_nothing_is_written),
    cmocka_unit_test (holm_raises_each_p_by_its_rank),
    cmocka_unit_test (holm_stops_at_one_and_leaves_a_single_p),
  };
  return cmocka_run_group_tests_name ("welch", tests, NULL, NULL);
}
