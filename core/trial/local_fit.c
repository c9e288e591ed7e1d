/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "local_fit.h"

#include <math.h>

/* y ~ a + b u + c u², u = (t - t[centre]) / scale, by the normal equations: with u of order 1 and three parameters they
 * are well conditioned. */
typedef struct {
  double b, c, scale;
} Quadratic;

static Quadratic
fit_quadratic (const double *t, const double *y, gsize centre, gsize half)
{
  gsize first = centre - half, last = centre + half;
  double scale = MAX (t[last] - t[centre], t[centre] - t[first]);
  double s1 = 0, s2 = 0, s3 = 0, s4 = 0, p0 = 0, p1 = 0, p2 = 0;
  double s0 = (double) (2 * half + 1);
  for (gsize i = first; i <= last; i++) {
    double u = (t[i] - t[centre]) / scale, v = y[i] - y[centre];
    double u2 = u * u;
    s1 += u;
    s2 += u2;
    s3 += u2 * u;
    s4 += u2 * u2;
    p0 += v;
    p1 += v * u;
    p2 += v * u2;
  }
  /* Cramer's rule on [s0 s1 s2; s1 s2 s3; s2 s3 s4] (a b c)' = (p0 p1 p2)'. */
  double m00 = s2 * s4 - s3 * s3, m01 = s1 * s4 - s2 * s3, m02 = s1 * s3 - s2 * s2;
  double determinant = s0 * m00 - s1 * m01 + s2 * m02;
  double m11 = s0 * s4 - s2 * s2, m12 = s0 * s3 - s1 * s2, m22 = s0 * s2 - s1 * s1;
  return (Quadratic){
    .b = (-m01 * p0 + m11 * p1 - m12 * p2) / determinant,
    .c = (m02 * p0 - m12 * p1 + m22 * p2) / determinant,
    .scale = scale,
  };
}

double
sb_local_slope (const double *t, const double *y, gsize centre, gsize half, double interval_s)
{
  if (interval_s > 0) {
    double sum = 0;
    for (gsize k = 1; k <= half; k++)
      sum += (double) k * (y[centre + k] - y[centre - k]);
    double squares = (double) (half * (half + 1) * (2 * half + 1)) / 3; /* sum of k² over both sides */
    return sum / (squares * interval_s);
  }
  Quadratic q = fit_quadratic (t, y, centre, half);
  return q.b / q.scale;
}

double
sb_local_slope_noise_gain (gsize half)
{
  return 1 / sqrt ((double) (half * (half + 1) * (2 * half + 1)) / 3);
}

void
sb_local_slopes (const double *t, const double *y, gsize n, gsize half, double *slope)
{
  g_return_if_fail (half >= 1 && n >= 2 * half + 1);
  for (gsize i = 0; i < n; i++) {
    gsize centre = CLAMP (i, half, n - 1 - half);
    Quadratic q = fit_quadratic (t, y, centre, half);
    slope[i] = (q.b + 2 * q.c * (t[i] - t[centre]) / q.scale) / q.scale;
  }
}
