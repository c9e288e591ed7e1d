/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "local_fit.h"
#include "trial_fixture.h"

/* Savitzky & Golay 1964, corrected by Steinier et al. 1972 (integers from memory): quadratic first derivative of
 * 2 m + 1 points has the weights -m..m over this norm. */
static const struct {
  gsize half;
  double norm;
} published[] = { { 2, 10 }, { 3, 28 }, { 4, 60 }, { 5, 110 } };

#define N      21
#define CENTRE 10

static void
impulse_response_is_the_published_weights (void **state)
{
  for (gsize p = 0; p < G_N_ELEMENTS (published); p++)
    for (int k = -5; k <= 5; k++) {
      double t[N], y[N] = { 0 };
      for (int i = 0; i < N; i++)
        t[i] = 0.5 * i; /* a half is exact in binary */
      y[CENTRE + k] = 1;
      int half = (int) published[p].half;
      double weight = k >= -half && k <= half ? k / published[p].norm : 0;
      assert_close (sb_local_slope (t, y, CENTRE, published[p].half, 0.5), weight / 0.5, 1e-15);
      assert_close (sb_local_slope (t, y, CENTRE, published[p].half, 0), weight / 0.5, 1e-13);
    }
}

static void
noise_gain_is_the_norm_of_the_published_weights (void **state)
{
  /* Sum of squares of -m..m is the norm itself, so |c| = sqrt (norm) / norm. */
  for (gsize p = 0; p < G_N_ELEMENTS (published); p++)
    assert_close (sb_local_slope_noise_gain (published[p].half), 1 / sqrt (published[p].norm), 1e-15);
}

/* Times without any even spacing, but with room for every fit. */
static void
fill_uneven (double *t, gsize n, double start_s, double scale_s)
{
  guint64 seed = 7;
  double now = start_s;
  for (gsize i = 0; i < n; i++) {
    t[i] = now;
    now += scale_s * (1 + 0.6 * next_noise (&seed));
  }
}

static void
slope_of_a_quadratic_is_exact_on_uneven_times (void **state)
{
  /* y = 3 + 2 (t - a) - 5 (t - a)²: dy/dt = 2 - 10 (t - a), also at the ends. */
  static const double starts_s[] = { 0, 1000 };
  for (gsize s = 0; s < G_N_ELEMENTS (starts_s); s++) {
    double t[N], y[N], slope[N];
    fill_uneven (t, N, starts_s[s], 1e-3);
    for (int i = 0; i < N; i++) {
      double u = t[i] - t[0];
      y[i] = 3 + 2 * u - 5 * u * u;
    }
    sb_local_slopes (t, y, N, 2, slope);
    for (int i = 0; i < N; i++) {
      double expected = 2 - 10 * (t[i] - t[0]);
      /* y near 3 carries 4e-16; over 1 ms that is 1e-12 of slope, and an end lies outside its fit's middle. */
      assert_close (slope[i], expected, 2e-11);
      if (i >= 2 && i < N - 2)
        assert_close (sb_local_slope (t, y, (gsize) i, 2, 0), slope[i], 1e-12);
    }
  }
}

/* The slow twin: normal equations by Gaussian elimination with pivoting, on times about the centre. */
static double
slow_slope (const double *t, const double *y, gsize centre, gsize half)
{
  long double a[3][4] = { { 0 } };
  for (gsize i = centre - half; i <= centre + half; i++) {
    long double u = ((long double) t[i] - t[centre]) * 1000, power[3] = { 1, u, u * u };
    for (int r = 0; r < 3; r++) {
      for (int c = 0; c < 3; c++)
        a[r][c] += power[r] * power[c];
      a[r][3] += power[r] * y[i];
    }
  }
  for (int p = 0; p < 3; p++) {
    int best = p;
    for (int r = p + 1; r < 3; r++)
      best = fabsl (a[r][p]) > fabsl (a[best][p]) ? r : best;
    for (int c = 0; c < 4; c++) {
      long double held = a[p][c];
      a[p][c] = a[best][c];
      a[best][c] = held;
    }
    for (int r = 0; r < 3; r++) {
      long double factor = r != p ? a[r][p] / a[p][p] : 0;
      for (int c = 0; c < 4; c++)
        a[r][c] -= factor * a[p][c];
    }
  }
  return (double) (a[1][3] / a[1][1] * 1000);
}

static void
slope_of_noise_on_uneven_times_equals_a_slow_twin (void **state)
{
  guint64 seed = 11;
  double t[N], y[N];
  fill_uneven (t, N, 0.3, 1e-3);
  for (int i = 0; i < N; i++)
    y[i] = next_noise (&seed);
  for (gsize half = 1; half <= 5; half++)
    for (gsize i = half; i < N - half; i++) {
      double expected = slow_slope (t, y, i, half);
      /* Slopes are of the order 1 / 1 ms; three points leave the quadratic no freedom and the least margin. */
      assert_close (sb_local_slope (t, y, i, half, 0), expected, 1e-9 * (1000 + fabs (expected)));
    }
}

static void
slope_of_an_even_base_is_the_same_by_both_ways (void **state)
{
  guint64 seed = 5;
  double t[N], y[N];
  for (int i = 0; i < N; i++) {
    t[i] = i * 0.0004;
    y[i] = next_noise (&seed);
  }
  for (gsize i = 5; i < N - 5; i++)
    assert_close (sb_local_slope (t, y, i, 5, 0.0004), sb_local_slope (t, y, i, 5, 0), 1e-9);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (impulse_response_is_the_published_weights),
    cmocka_unit_test (noise_gain_is_the_norm_of_the_published_weights),
    cmocka_unit_test (slope_of_a_quadratic_is_exact_on_uneven_times),
    cmocka_unit_test (slope_of_noise_on_uneven_times_equals_a_slow_twin),
    cmocka_unit_test (slope_of_an_even_base_is_the_same_by_both_ways),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
