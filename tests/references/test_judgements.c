/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of two means against published worked examples: equality, effect size, correction for several tests. */
#include "close.h"
#include "comparison.h"
#include "statistics.h"

#include <gsl/gsl_cdf.h>

#define MEASURE SB_MEASURE_PEAK_TORQUE

typedef struct {
  SbSummary reference, other;
  SbComparison *comparison;
} Sides;

static int
setup (void **state)
{
  *state = g_new0 (Sides, 1);
  return 0;
}

static int
teardown (void **state)
{
  Sides *sides = *state;
  sb_comparison_unref (sides->comparison);
  g_free (sides);
  return 0;
}

static void
set (SbSummary *side, double mean, double sd, gsize n)
{
  side->measure[MEASURE] = (SbMeasureSummary){ .present = TRUE, .mean = mean, .sd = sd, .n = n };
}

static const SbMeasureComparison *
compare (Sides *sides, double margin)
{
  SbMargin margins[SB_N_MEASURES];
  for (int m = 0; m < SB_N_MEASURES; m++)
    margins[m] = (SbMargin){ .ratio = NAN, .absolute = margin };
  sb_comparison_unref (sides->comparison);
  sides->comparison = sb_comparison_new (&sides->reference, NULL, 0, &sides->other, NULL, 0, margins, 0.05);
  return &sides->comparison->measure[MEASURE];
}

/* Lakens 2017, Social Psychological and Personality Science 8, 355-362, first example (from memory): 5.25, s 0.95, n 95
 * against 5.22, s 0.83, n 89 are equivalent within d = ± 0.43 of the root mean square of both s, the larger p being
 * that of t = -2.69, 0.004. The 90 % interval, whose end decides, is R's from Welch's formulas: -0.1870843 to
 * 0.2470843. */
static void
two_one_sided_tests_agree_with_the_published_example (void **state)
{
  Sides *sides = *state;
  set (&sides->reference, 5.22, 0.83, 89);
  set (&sides->other, 5.25, 0.95, 95);
  double margin = 0.43 * sqrt ((0.83 * 0.83 + 0.95 * 0.95) / 2);
  const SbMeasureComparison *measure = compare (sides, margin);
  double t = (measure->welch.difference - margin) / measure->welch.standard_error;
  assert_int_equal (measure->verdict, SB_VERDICT_PRACTICALLY_EQUAL);
  assert_close (t, -2.69, 5e-3);
  assert_close (gsl_cdf_tdist_P (t, measure->welch.df), 0.004, 5e-4);
  assert_close (measure->welch.ci90[0], -0.1870843, 1e-7);
  assert_close (measure->welch.ci90[1], 0.2470843, 1e-7);
  assert_int_equal (compare (sides, 0.2471)->verdict, SB_VERDICT_PRACTICALLY_EQUAL);
  assert_int_equal (compare (sides, 0.2470)->verdict, SB_VERDICT_UNDECIDED);
}

/* Borenstein, Hedges, Higgins & Rothstein 2009, Introduction to Meta-Analysis, chapter 4 (from memory): means 103 and
 * 100, s 5.5 and 4.5, n 50 each: pooled s 5.0249, d = 0.5970, g = 0.5924. */
static void
hedges_g_is_that_of_the_textbook (void **state)
{
  Sides *sides = *state;
  set (&sides->reference, 100, 4.5, 50);
  set (&sides->other, 103, 5.5, 50);
  assert_close (compare (sides, 1)->hedges_g, 0.5924, 5.1e-5);
}

/* pairwise.t.test (airquality$Ozone, factor (airquality$Month)), example of R's manual: the ten p with
 * p.adjust.method = "none", and as the example prints them, after Holm (R 4.2.2). */
static void
holm_gives_what_the_manual_of_r_prints (void **state)
{
  double p[] = { 6.087657893e-01, 2.931151249e-05, 1.022548271e-02, 1.949060713e-05, 8.312221876e-03,
                 9.174363428e-01, 3.254530713e-01, 8.583832976e-01, 6.969711634e-04, 4.847635452e-04 };
  static const double holm[] = { 1, 0.0002638036124, 0.0511274135425, 0.0001949060713, 0.0498733312537, 1, 1,
                                 1, 0.0048787981437, 0.0038781083612 };
  sb_holm (p, G_N_ELEMENTS (p));
  for (gsize i = 0; i < G_N_ELEMENTS (p); i++)
    assert_close_relative (p[i], holm[i], 2e-9);
}

/* Student's hours of sleep, ten patients under either drug: as pairs p is 0.002833, as two groups 0.07939. Repeats of
 * two configurations are no pairs, so the latter has to come out. Interval: R's t.test (conf.level = .9). */
static void
repeats_are_compared_as_groups_not_as_pairs (void **state)
{
  static const double first[] = { 0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0 };
  static const double second[] = { 1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4 };
  Sides *sides = *state;
  set (&sides->reference, sb_mean (first, 10), sb_sd (first, 10), 10);
  set (&sides->other, sb_mean (second, 10), sb_sd (second, 10), 10);
  const SbMeasureComparison *measure = compare (sides, 4);
  assert_close (measure->welch.p, 0.07939, 5e-6);
  assert_close (measure->welch.ci90[0], 0.1066185027, 1e-8);
  assert_close (measure->welch.ci90[1], 3.0533814973, 1e-8);
  assert_int_equal (measure->verdict, SB_VERDICT_PRACTICALLY_EQUAL); /* R: one-sided p 1.9e-6 and 0.00536 at ± 4 */
  assert_int_equal (compare (sides, 3)->verdict, SB_VERDICT_UNDECIDED);
}

#define SIDES_TEST(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    SIDES_TEST (two_one_sided_tests_agree_with_the_published_example),
    SIDES_TEST (hedges_g_is_that_of_the_textbook),
    cmocka_unit_test (holm_gives_what_the_manual_of_r_prints),
    SIDES_TEST (repeats_are_compared_as_groups_not_as_pairs),
  };
  return cmocka_run_group_tests_name ("judgements", tests, NULL, NULL);
}
