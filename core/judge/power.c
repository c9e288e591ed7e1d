/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "power.h"

#include "statistics.h"
#include "steady_math.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_roots.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>

#define MOST_TERMS   2000
#define LEAST_ERROR  1e-13
#define MOST_CENTRAL 37.0 /* beyond it exp (-ncp² / 2) is no number any more */
#define N_NODES      64
#define MOST_TURNS   100

/* Abramowitz & Stegun 26.7.10. */
static double
normal_approximation (double t, double df, double noncentrality)
{
  double s = 1 / (4 * df);
  return gsl_cdf_ugaussian_P ((t * (1 - s) - noncentrality) / sqrt (1 + 2 * t * t * s));
}

/* The sum of AS 243: incomplete beta functions with Poisson weights, each from the one before; what is left of the
 * weights bounds the error. For t > 0. */
static double
lenth_sum (double t, double df, double noncentrality)
{
  double x = t * t / (t * t + df), half = noncentrality * noncentrality / 2, b = df / 2, a = 0.5;
  double p = sb_exp (-half) / 2, q = noncentrality * p / (M_SQRTPI / M_SQRT2), left = 0.5 - p;
  double power = sb_pow (1 - x, b);
  double odd = gsl_sf_beta_inc (a, b, x), even = 1 - power;
  double odd_step = 2 * sb_exp (a * sb_log (x) + b * log1p (-x) - gsl_sf_lnbeta (a, b)), even_step = b * x * power;
  double sum = p * odd + q * even;
  for (int i = 1; i < MOST_TERMS && 2 * left * (odd - odd_step) > LEAST_ERROR; i++) {
    a += 1;
    odd -= odd_step;
    even -= even_step;
    odd_step *= x * (a + b - 1) / a;
    even_step *= x * (a + b - 0.5) / (a + 0.5);
    p *= half / i;
    q *= half / (i + 0.5);
    left -= p;
    sum += p * odd + q * even;
  }
  return sum;
}

double
sb_noncentral_t (double t, double df, double noncentrality)
{
  if (fabs (noncentrality) > MOST_CENTRAL)
    return normal_approximation (t, df, noncentrality);
  if (t < 0)
    return 1 - sb_noncentral_t (-t, df, -noncentrality);
  double below = gsl_cdf_ugaussian_P (-noncentrality);
  if (t > 0)
    below += lenth_sum (t, df, noncentrality);
  return CLAMP (below, 0, 1);
}

static double
error_of (const SbScatter *scatter)
{
  return sqrt (scatter->sd[0] * scatter->sd[0] / scatter->n[0] + scatter->sd[1] * scatter->sd[1] / scatter->n[1]);
}

static double
df_of (const SbScatter *scatter)
{
  double u = scatter->sd[0] * scatter->sd[0] / scatter->n[0], v = scatter->sd[1] * scatter->sd[1] / scatter->n[1];
  double a = u / (u + v), b = v / (u + v);
  return 1 / (a * a / (scatter->n[0] - 1) + b * b / (scatter->n[1] - 1));
}

double
sb_t_power (const SbScatter *scatter, double difference, double level)
{
  double df = df_of (scatter), critical = sb_student_t (1 - level / 2, df);
  double away = fabs (difference) / error_of (scatter);
  return 1 - sb_noncentral_t (critical, df, away) + sb_noncentral_t (-critical, df, away);
}

/* Over x, the standard deviation found over the true one: x² df is chi-squared. */
static double
density_of_scatter (double x, double df)
{
  return 2 * df * x * gsl_ran_chisq_pdf (df * x * x, df);
}

/* What lies below it has a chance of 10^-12. GSL's inverse fails from about 20,000 degrees of freedom on, where the
 * scatter found is as good as normal about the true one. */
static double
least_scatter (double df)
{
  return df > 1e4 ? 1 + gsl_cdf_ugaussian_Pinv (1e-12) / sqrt (2 * df) : sqrt (gsl_cdf_chisq_Pinv (1e-12, df) / df);
}

double
sb_tost_power (const SbScatter *scatter, double difference, double margin, double level)
{
  double df = df_of (scatter), critical = sb_student_t (1 - level, df), error = error_of (scatter);
  double upper = (margin - difference) / error, lower = (-margin - difference) / error;
  double from = least_scatter (df);
  double to = MIN (margin / (critical * error), sqrt (gsl_cdf_chisq_Qinv (1e-12, df) / df)), sum = 0;
  if (!(to > from))
    return 0;
  gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc (N_NODES);
  for (size_t i = 0; i < N_NODES; i++) {
    double x, weight;
    gsl_integration_glfixed_point (from, to, i, &x, &weight, table);
    double inside = gsl_cdf_ugaussian_P (upper - critical * x) - gsl_cdf_ugaussian_P (lower + critical * x);
    sum += weight * MAX (inside, 0) * density_of_scatter (x, df);
  }
  gsl_integration_glfixed_table_free (table);
  return MIN (sum, 1);
}

#define EITHER_SIDE -1

/* Power with n repeats on this side; `margin` NaN: of the t test. */
static double
power_with (const SbScatter *scatter, int side, gsize n, double difference, double margin, double level)
{
  SbScatter with = { .sd = { scatter->sd[0], scatter->sd[1] }, .n = { (double) n, (double) n } };
  if (side != EITHER_SIDE)
    with.n[1 - side] = scatter->n[1 - side];
  return isnan (margin) ? sb_t_power (&with, difference, level) : sb_tost_power (&with, difference, margin, level);
}

/* Power rises with n: doubled until it is enough, then halved between. */
static gsize
repeats_for (const SbScatter *scatter, int side, double difference, double margin, double level, double power)
{
  gsize low = 1, high = 2;
  while (power_with (scatter, side, high, difference, margin, level) < power) {
    low = high;
    high *= 2;
    if (low >= SB_MOST_REPEATS)
      return 0;
  }
  while (high - low > 1) {
    gsize middle = low + (high - low) / 2;
    if (power_with (scatter, side, middle, difference, margin, level) < power)
      low = middle;
    else
      high = middle;
  }
  return high <= SB_MOST_REPEATS ? high : 0;
}

gsize
sb_t_repeats (const SbScatter *scatter, double difference, double level, double power)
{
  if (!(fabs (difference) > 0))
    return 0;
  return repeats_for (scatter, EITHER_SIDE, difference, NAN, level, power);
}

gsize
sb_tost_repeats (const SbScatter *scatter, double difference, double margin, double level, double power)
{
  if (!(fabs (difference) < margin))
    return 0;
  return repeats_for (scatter, EITHER_SIDE, difference, margin, level, power);
}

gsize
sb_repeats_beside (const SbScatter *scatter, int side, double difference, double margin, double level, double power)
{
  gboolean possible = isnan (margin) ? fabs (difference) > 0 : fabs (difference) < margin;
  return possible ? repeats_for (scatter, side, difference, margin, level, power) : 0;
}

typedef struct {
  const SbScatter *scatter;
  double level, power;
} Wanted;

static double
power_beyond (double difference, void *data)
{
  const Wanted *wanted = data;
  return sb_t_power (wanted->scatter, difference, wanted->level) - wanted->power;
}

double
sb_t_detectable (const SbScatter *scatter, double level, double power)
{
  Wanted wanted = { scatter, level, power };
  double low = 0, high = error_of (scatter);
  for (; power_beyond (high, &wanted) < 0; high *= 2)
    low = high;
  gsl_function function = { power_beyond, &wanted };
  gsl_root_fsolver *solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  int status = gsl_root_fsolver_set (solver, &function, low, high);
  for (int i = 0; status == GSL_SUCCESS && i < MOST_TURNS && high - low > 1e-12 * high; i++) {
    status = gsl_root_fsolver_iterate (solver);
    low = gsl_root_fsolver_x_lower (solver);
    high = gsl_root_fsolver_x_upper (solver);
  }
  double found = gsl_root_fsolver_root (solver);
  gsl_root_fsolver_free (solver);
  return found;
}
