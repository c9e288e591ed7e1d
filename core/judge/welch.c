/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "comparison.h"
#include "statistics.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <math.h>

gboolean
sb_welch (double reference_mean, double reference_sd, gsize reference_n, double other_mean, double other_sd,
          gsize other_n, SbWelch *welch)
{
  /* Also FALSE for a standard deviation that is not known (NaN). */
  if (reference_n < 2 || other_n < 2 || !(reference_sd >= 0 && other_sd >= 0) || !(reference_sd + other_sd > 0))
    return FALSE;
  double u = reference_sd * reference_sd / (double) reference_n;
  double v = other_sd * other_sd / (double) other_n;
  double difference = other_mean - reference_mean, error = sqrt (u + v);
  /* In shares of the sum: squares of tiny variances would underflow. */
  double a = u / (u + v), b = v / (u + v);
  double df = 1 / (a * a / (double) (reference_n - 1) + b * b / (double) (other_n - 1));
  double t = difference / error;
  double half95 = sb_student_t (0.975, df) * error, half90 = sb_student_t (0.95, df) * error;
  *welch = (SbWelch){
    .difference = difference,
    .standard_error = error,
    .df = df,
    .t = t,
    .p = MIN (2 * gsl_cdf_tdist_Q (fabs (t), df), 1),
    .ci95 = { difference - half95, difference + half95 },
    .ci90 = { difference - half90, difference + half90 },
  };
  return TRUE;
}

void
sb_holm (double *p, gsize n)
{
  g_autofree size_t *order = g_new (size_t, n + 1);
  gsl_sort_index (order, p, 1, n);
  double adjusted = 0;
  for (gsize i = 0; i < n; i++) {
    adjusted = MAX (adjusted, MIN ((double) (n - i) * p[order[i]], 1));
    p[order[i]] = adjusted;
  }
}
