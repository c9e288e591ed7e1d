/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* Kendall's distribution is counted for so few values, and normal enough for more. */
#define MOST_EXACT 7

static double
median_of (const double *values, gsize n)
{
  g_autofree double *sorted = g_memdup2 (values, n * sizeof *values);
  gsl_sort (sorted, 1, n);
  return gsl_stats_median_from_sorted_data (sorted, 1, n);
}

/* Sums over the groups of equal values what the corrections for ties are made of. */
typedef struct {
  double pairs;   /* Σ t (t - 1) */
  double triples; /* Σ t (t - 1) (t - 2) */
  double kendall; /* Σ t (t - 1) (2 t + 5) */
  gsize n_groups;
} Ties;

static Ties
count_ties (const double *values, gsize n)
{
  g_autofree double *sorted = g_memdup2 (values, n * sizeof *values);
  gsl_sort (sorted, 1, n);
  Ties ties = { 0 };
  for (gsize i = 0, end; i < n; i = end) {
    for (end = i + 1; end < n && !(sorted[end] > sorted[i]); end++)
      ;
    double t = (double) (end - i);
    ties.pairs += t * (t - 1);
    ties.triples += t * (t - 1) * (t - 2);
    ties.kendall += t * (t - 1) * (2 * t + 5);
    ties.n_groups++;
  }
  return ties;
}

/* Slopes between all pairs with different x, in no order. */
static double *
pair_slopes (const double *x, const double *y, gsize n, gsize *n_slopes)
{
  double *slopes = g_new (double, n *(n - 1) / 2 + 1);
  *n_slopes = 0;
  for (gsize i = 0; i < n; i++)
    for (gsize j = i + 1; j < n; j++)
      if (x[j] > x[i] || x[j] < x[i])
        slopes[(*n_slopes)++] = (y[j] - y[i]) / (x[j] - x[i]);
  return slopes;
}

/* There are many slopes and few of them are asked for by their rank, which takes no sorting. */
static double
median_by_rank (double *values, gsize n)
{
  double upper = gsl_stats_select (values, 1, n, n / 2);
  return n % 2 == 1 ? upper : (gsl_stats_select (values, 1, n, n / 2 - 1) + upper) / 2;
}

gboolean
sb_theil_sen (const double *x, const double *y, gsize n, SbTheilSen *trend)
{
  if (n < 3)
    return FALSE;
  gsize n_slopes;
  g_autofree double *slopes = pair_slopes (x, y, n, &n_slopes);
  if (n_slopes == 0)
    return FALSE;
  double size = (double) n;
  double variance = (size * (size - 1) * (2 * size + 5) - count_ties (x, n).kendall - count_ties (y, n).kendall) / 18;
  double reach = gsl_cdf_ugaussian_Pinv (0.975) * sqrt (fmax (variance, 0));
  /* The M1-th and the (M2 + 1)-th smallest of Sen 1968, counted from 0. */
  double lower = rint (((double) n_slopes - reach) / 2) - 1, upper = rint (((double) n_slopes + reach) / 2);
  trend->slope = median_by_rank (slopes, n_slopes);
  trend->intercept = median_of (y, n) - trend->slope * median_of (x, n);
  double last = (double) n_slopes - 1;
  trend->ci95[0] = gsl_stats_select (slopes, 1, n_slopes, (gsize) CLAMP (lower, 0, last));
  trend->ci95[1] = gsl_stats_select (slopes, 1, n_slopes, (gsize) CLAMP (upper, 0, last));
  return TRUE;
}

/* The variance of the statistic when the levels say nothing, with ties among levels and among values. Hollander & Wolfe
 * 1999, equation 6.19. */
static double
jonckheere_variance (gsize n, const Ties *levels, const Ties *values)
{
  double size = (double) n;
  double variance = (size * (size - 1) * (2 * size + 5) - levels->kendall - values->kendall) / 72;
  if (n > 2)
    variance += levels->triples * values->triples / (36 * size * (size - 1) * (size - 2));
  return variance + levels->pairs * values->pairs / (8 * size * (size - 1));
}

/* Orders of n values by the number of pairs that rise, from 0 to n (n - 1) / 2: each value more comes in at one of as
 * many places as there are, and adds 0 to that many pairs (Kendall 1938). `orders` holds 1 + n (n - 1) / 2. */
static void
count_orders (gsize n, double *orders)
{
  gsize most = n * (n - 1) / 2;
  double before[1 + MOST_EXACT * (MOST_EXACT - 1) / 2];
  orders[0] = 1;
  for (gsize k = 1; k <= most; k++)
    orders[k] = 0;
  for (gsize size = 2; size <= n; size++) {
    memcpy (before, orders, (most + 1) * sizeof *orders);
    for (gsize k = 0; k <= most; k++) {
      orders[k] = 0;
      for (gsize j = 0; j < size && j <= k; j++)
        orders[k] += before[k - j];
    }
  }
}

/* Two-sided, of so many rising pairs among n values without ties. */
static double
exact_p (gsize n, double rising)
{
  double orders[1 + MOST_EXACT * (MOST_EXACT - 1) / 2], all = 0, below = 0, above = 0;
  gsize most = n * (n - 1) / 2;
  count_orders (n, orders);
  for (gsize k = 0; k <= most; k++) {
    all += orders[k];
    below += (double) k <= rising ? orders[k] : 0;
    above += (double) k >= rising ? orders[k] : 0;
  }
  return fmin (1, 2 * fmin (below, above) / all);
}

gboolean
sb_jonckheere (const double *level, const double *value, gsize n, SbJonckheere *test)
{
  if (n < 2)
    return FALSE;
  Ties levels = count_ties (level, n), values = count_ties (value, n);
  if (levels.n_groups < 2 || values.n_groups < 2)
    return FALSE;
  double rising = 0, pairs = 0;
  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j < n; j++)
      if (level[j] > level[i]) {
        pairs += 1;
        rising += value[j] > value[i] ? 1 : value[j] < value[i] ? 0 : 0.5;
      }
  double apart = rising - pairs / 2;
  double nearer = copysign (fmax (fabs (apart) - 0.5, 0), apart);
  *test = (SbJonckheere){ .statistic = rising,
                          .expected = pairs / 2,
                          .sd = sqrt (jonckheere_variance (n, &levels, &values)) };
  test->z = nearer / test->sd;
  gboolean exact = n <= MOST_EXACT && levels.n_groups == n && values.n_groups == n;
  test->p = exact ? exact_p (n, rising) : fmin (2 * gsl_cdf_ugaussian_Q (fabs (test->z)), 1);
  return TRUE;
}
