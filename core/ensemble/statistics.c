/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "statistics.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <math.h>

/* A sum that carries what each addition rounds off (Neumaier 1974). */
typedef struct {
  double sum, lost;
} Sum;

static void
add (Sum *s, double x)
{
  double sum = s->sum + x;
  s->lost += fabs (s->sum) >= fabs (x) ? (s->sum - sum) + x : (x - sum) + s->sum;
  s->sum = sum;
}

static double
total (const Sum *s)
{
  return s->sum + s->lost;
}

double
sb_mean (const double *x, gsize n)
{
  g_return_val_if_fail (n >= 1, NAN);
  Sum sum = { 0 }, rest = { 0 };
  for (gsize i = 0; i < n; i++)
    add (&sum, x[i]);
  double mean = total (&sum) / (double) n;
  for (gsize i = 0; i < n; i++)
    add (&rest, x[i] - mean);
  return mean + total (&rest) / (double) n;
}

double
sb_sd (const double *x, gsize n)
{
  if (n < 2)
    return NAN;
  double mean = sb_mean (x, n);
  Sum squares = { 0 }, rest = { 0 };
  for (gsize i = 0; i < n; i++) {
    double d = x[i] - mean;
    add (&squares, d * d);
    add (&rest, d);
  }
  /* The mean is a rounded number: what it is off by is taken out again (Chan, Golub & LeVeque 1983). */
  double off = total (&rest);
  return sqrt (fmax (0, total (&squares) - off * off / (double) n) / (double) (n - 1));
}

/* A product and what rounding takes from it. */
static void
add_product (Sum *s, double a, double b)
{
  double product = a * b;
  add (s, product);
  add (s, fma (a, b, -product));
}

double
sb_lag1_autocorrelation (const double *x, gsize n)
{
  if (n < 2)
    return NAN;
  double mean = sb_mean (x, n);
  Sum products = { 0 }, squares = { 0 }, rest = { 0 };
  for (gsize i = 0; i < n; i++) {
    double d = x[i] - mean;
    add (&rest, d);
    add_product (&squares, d, d);
    if (i + 1 < n)
      add_product (&products, d, x[i + 1] - mean);
  }
  /* Sums about the mean that was rounded, brought to the mean itself, which is `off` away. */
  double off = total (&rest) / (double) n, ends = (x[0] - mean) + (x[n - 1] - mean);
  double square = total (&squares) - (double) n * off * off;
  double product = total (&products) - off * (2 * (double) n * off - ends) + (double) (n - 1) * off * off;
  return square > 0 ? product / square : (double) NAN;
}

double
sb_quantile (double *x, gsize n, double p)
{
  g_return_val_if_fail (n >= 1 && p >= 0 && p <= 1, NAN);
  gsl_sort (x, 1, n);
  double place = p * (double) (n - 1);
  gsize below = MIN ((gsize) place, n - 1), above = MIN (below + 1, n - 1);
  return x[below] + (place - (double) below) * (x[above] - x[below]);
}

double
sb_student_t (double p, double df)
{
  return gsl_cdf_tdist_Pinv (p, df);
}

double
sb_mean_half_width (double sd, gsize n, double level)
{
  if (n < 2)
    return NAN;
  return sb_student_t (0.5 + level / 2, (double) (n - 1)) * sd / sqrt ((double) n);
}
