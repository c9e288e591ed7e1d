/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Power, repeats and detectable differences against R 4.2.2; each value stands beside the call that gave it. The first
 * three calls of power.t.test are the examples of its manual page. */
#include "close.h"
#include "power.h"

#include <gsl/gsl_cdf.h>

/* pt (t, df, ncp = ncp) */
static void
noncentral_t_is_that_of_r (void **state)
{
  static const struct {
    double t, df, ncp, below;
  } cases[] = {
    { 1.5, 3, 1, 0.6257559041 },    { 2, 10, 1.5, 0.6591540724 },
    { -1, 5, 0.5, 0.0824440911 },   { 0, 7, 1, 0.1586552539 },
    { 2.5, 2, 3, 0.2924037743 },    { 4, 20, 3.2, 0.7365736369 },
    { 1, 1.5, 2, 0.1545236800 },    { 10, 8, 6, 0.9233955179 },
    { 0.5, 100, -1, 0.9329098243 }, { 2.1, 38, 3.1622776601683795, 0.1477133865 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_close (sb_noncentral_t (cases[i].t, cases[i].df, cases[i].ncp), cases[i].below, 2e-10);
}

/* Without noncentrality it is Student's t; and at 0 the share below is that of a normal deviate below -ncp, since the
 * denominator has no sign. */
static void
noncentral_t_has_its_closed_forms (void **state)
{
  for (double t = -3; t < 4; t += 0.7)
    assert_close (sb_noncentral_t (t, 4, 0), gsl_cdf_tdist_P (t, 4), 1e-12);
  for (double ncp = -3; ncp < 4; ncp += 0.9)
    assert_close (sb_noncentral_t (0, 2.5, ncp), gsl_cdf_ugaussian_P (-ncp), 1e-14);
}

/* The slow twin: Φ(t x - ncp) over the distribution of x = √(χ²/df), by the midpoint rule. */
static void
noncentral_t_is_its_integral (void **state)
{
  static const double cases[][3] = { { 3, 6, 2.5 }, { 8, 12, 9 }, { 40, 5, 30 }, { 38, 30, 36 } };
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    double t = cases[c][0], df = cases[c][1], ncp = cases[c][2], sum = 0;
    const int n = 20000;
    for (int i = 0; i < n; i++)
      sum += gsl_cdf_ugaussian_P (t * sqrt (gsl_cdf_chisq_Pinv ((i + 0.5) / n, df) / df) - ncp) / n;
    assert_close (sb_noncentral_t (t, df, ncp), sum, 2e-6);
  }
}

static SbScatter
alike (double n, double sd)
{
  return (SbScatter){ .sd = { sd, sd }, .n = { n, n } };
}

/* power.t.test (..., strict = TRUE) counts the far tail, as here; the manual's first example leaves it out (0.8689528).
 */
static void
power_is_that_of_r (void **state)
{
  static const struct {
    double n, delta, sd, power;
  } cases[] = {
    { 20, 1, 1, 0.8689530277 },     /* power.t.test (n = 20, delta = 1, sd = 1, strict = TRUE) */
    { 5, 2, 1, 0.7905423780 },      /* power.t.test (n = 5, delta = 2, sd = 1, strict = TRUE) */
    { 10, 1, 1, 0.5620066466 },     /* power.t.test (n = 10, delta = 1, sd = 1, strict = TRUE) */
    { 3, 3, 1, 0.7825543871 },      /* power.t.test (n = 3, delta = 3, sd = 1, strict = TRUE) */
    { 22.0210977039, 1, 1, 0.9 },   /* power.t.test (power = .90, delta = 1): n = 22.02110 */
    { 63.7657637143, 0.5, 1, 0.8 }, /* power.t.test (power = .80, delta = .5): n = 63.76576 */
    { 5.0900019014, 2, 1, 0.8 },    /* power.t.test (power = .80, delta = 2, strict = TRUE): n = 5.090002 */
    { 2.4138908949, 4, 1, 0.8 },    /* power.t.test (power = .80, delta = 4, strict = TRUE): n = 2.413891 */
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    SbScatter scatter = alike (cases[i].n, cases[i].sd);
    assert_close (sb_t_power (&scatter, cases[i].delta, 0.05), cases[i].power, 2e-6);
    assert_close (sb_t_power (&scatter, -cases[i].delta, 0.05), cases[i].power, 2e-6);
  }
}

/* The next whole number above the n that power.t.test gives. */
static void
repeats_are_those_of_r_rounded_up (void **state)
{
  SbScatter one = alike (0, 1), half = alike (0, 0.5);
  assert_int_equal (sb_t_repeats (&one, 1, 0.05, 0.9), 23);   /* power.t.test (power = .90, delta = 1): 22.02110 */
  assert_int_equal (sb_t_repeats (&one, 0.5, 0.05, 0.8), 64); /* power.t.test (power = .80, delta = .5): 63.76576 */
  assert_int_equal (sb_t_repeats (&one, 2, 0.05, 0.8), 6);    /* power.t.test (power = .80, delta = 2): 5.090008 */
  assert_int_equal (sb_t_repeats (&half, 1, 0.05, 0.8), 6);   /* power.t.test (power = .80, delta = 1, sd = .5) */
  assert_int_equal (sb_t_repeats (&one, 4, 0.05, 0.8),
                    3); /* power.t.test (power = .80, delta = 4, strict = TRUE): 2.41 */
  assert_int_equal (sb_t_repeats (&one, 1000, 0.05, 0.9), 2);
  assert_int_equal (sb_t_repeats (&one, 0, 0.05, 0.9), 0);
  assert_int_equal (sb_t_repeats (&one, 1e-4, 0.05, 0.9), 0);
}

static void
detectable_difference_is_that_of_r (void **state)
{
  SbScatter five = alike (5, 1), ten = alike (10, 1), wide = alike (10, 2);
  assert_close (sb_t_detectable (&five, 0.05, 0.8), 2.0244379395, 1e-4); /* power.t.test (n = 5, power = .8, sd = 1) */
  assert_close (sb_t_detectable (&ten, 0.05, 0.9), 1.5336702815, 1e-4);  /* power.t.test (n = 10, power = .9, sd = 1) */
  /* power.t.test (n = 10, power = .8, sd = 2, sig.level = .01) */
  assert_close (sb_t_detectable (&wide, 0.01, 0.8), 3.3722210288, 1e-4);
}

/* Owen's integral by R's integrate over the standard deviation found, nu = 2n - 2, tc = qt (.95, nu), se = sd √(2/n),
 * h = m - tc s se: f (s) = (pnorm ((h - delta)/se) - pnorm ((-h - delta)/se)) 2 nu s dchisq (nu s², nu), s to m/(tc
 * se), rel.tol 1e-10. */
static void
power_of_equality_is_that_of_r (void **state)
{
  static const struct {
    double n, delta, sd, margin, power;
  } cases[] = {
    { 10, 0, 1, 1, 0.39093922 },  { 20, 0, 1, 1, 0.85580495 },   { 20, 0.2, 1, 1, 0.78069493 },
    { 5, 0, 0.3, 1, 0.99822843 }, { 30, 0.5, 1, 1, 0.60600426 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    SbScatter scatter = alike (cases[i].n, cases[i].sd);
    assert_close (sb_tost_power (&scatter, cases[i].delta, cases[i].margin, 0.05), cases[i].power, 1e-7);
  }
}

/* At the edge of the margin equality is shown with the chance of the level at most, whatever the number. */
static void
equality_at_the_margin_is_never_planned (void **state)
{
  SbScatter one = alike (0, 1), many = alike (500, 1);
  assert_int_equal (sb_tost_repeats (&one, 1, 1, 0.05, 0.8), 0);
  assert_int_equal (sb_tost_repeats (&one, -2, 1, 0.05, 0.8), 0);
  assert_close (sb_tost_power (&many, 1, 1, 0.05), 0.05, 1e-6);
  gsize n = sb_tost_repeats (&one, 0, 1, 0.05, 0.8);
  SbScatter enough = alike ((double) n, 1), fewer = alike ((double) n - 1, 1);
  assert_true (sb_tost_power (&enough, 0, 1, 0.05) >= 0.8 && sb_tost_power (&fewer, 0, 1, 0.05) < 0.8);
}

/* One side without scatter: a test of one mean with n - 1 degrees of freedom against a known one. R:
 * power.t.test (n = 8, delta = 1, sd = 1, type = "one.sample", strict = TRUE)$power = 0.6808339582 */
static void
side_without_scatter_leaves_a_test_of_one_sample (void **state)
{
  SbScatter scatter = { .sd = { 1, 0 }, .n = { 8, 8 } };
  assert_close (sb_t_power (&scatter, 1, 0.05), 0.6808339582, 1e-6);
}

/* With so many repeats the scatter is known: 2 Φ (margin / error − z) − 1, z of 95 %. */
static void
equality_of_very_many_repeats_is_that_of_known_scatter (void **state)
{
  (void) state;
  for (double n = 9000; n < 90000; n *= 1.3) {
    SbScatter many = alike (n, 1);
    double known = 2 * gsl_cdf_ugaussian_P (0.03 / sqrt (2 / n) - gsl_cdf_ugaussian_Pinv (0.95)) - 1;
    assert_close (sb_tost_power (&many, 0, 0.03, 0.05), known, 2e-4);
  }
}

/* Figures of SciPy's noncentral t (stats.nct) with Welch's degrees of freedom: beside 50 a difference of one standard
 * deviation takes 11 (power 0.8003, of ten 0.7600), one of 0.6 takes 41 (0.8039, of 40 0.7984); beside 20 a million
 * reach 0.7210 for it. */
static void
repeats_of_one_side_are_those_that_reach_the_power (void **state)
{
  (void) state;
  const SbScatter beside_50 = { .sd = { 1, 1 }, .n = { 3, 50 } }, beside_20 = { .sd = { 1, 1 }, .n = { 20, 3 } };
  assert_int_equal (sb_repeats_beside (&beside_50, 0, 1, NAN, 0.05, 0.8), 11);
  assert_int_equal (sb_repeats_beside (&beside_50, 0, 0.6, NAN, 0.05, 0.8), 41);
  assert_int_equal (sb_repeats_beside (&beside_20, 1, 0.6, NAN, 0.05, 0.8), 0);
  assert_int_equal (sb_repeats_beside (&beside_50, 0, 1, 0.5, 0.05, 0.8), 0); /* no equality beyond its margin */
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (equality_of_very_many_repeats_is_that_of_known_scatter),
    cmocka_unit_test (noncentral_t_is_that_of_r),
    cmocka_unit_test (noncentral_t_has_its_closed_forms),
    cmocka_unit_test (noncentral_t_is_its_integral),
    cmocka_unit_test (power_is_that_of_r),
    cmocka_unit_test (repeats_are_those_of_r_rounded_up),
    cmocka_unit_test (repeats_of_one_side_are_those_that_reach_the_power),
    cmocka_unit_test (detectable_difference_is_that_of_r),
    cmocka_unit_test (power_of_equality_is_that_of_r),
    cmocka_unit_test (equality_at_the_margin_is_never_planned),
    cmocka_unit_test (side_without_scatter_leaves_a_test_of_one_sample),
  };
  return cmocka_run_group_tests_name ("power", tests, NULL, NULL);
}
