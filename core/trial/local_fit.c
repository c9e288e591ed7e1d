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

#define MOST_TERMS (SB_LOCAL_FIT_DEGREES + 1)

/* Normal equations of a polynomial in u, its terms from the lowest; `a` has a row for each, and the right side. */
static void
fill_normal_equations (double a[MOST_TERMS][MOST_TERMS + 1], gsize n_terms, double u, double y)
{
  double power[MOST_TERMS] = { 1 };
  for (gsize k = 1; k < n_terms; k++)
    power[k] = power[k - 1] * u;
  for (gsize r = 0; r < n_terms; r++) {
    for (gsize c = 0; c < n_terms; c++)
      a[r][c] += power[r] * power[c];
    a[r][n_terms] += power[r] * y;
  }
}

/* Gauss and Jordan; the matrix is positive definite and needs no pivots. The solution stands in the last column. */
static void
solve (double a[MOST_TERMS][MOST_TERMS + 1], gsize n_terms)
{
  for (gsize k = 0; k < n_terms; k++)
    for (gsize r = 0; r < n_terms; r++) {
      double factor = r == k ? 1 - 1 / a[k][k] : a[r][k] / a[k][k];
      for (gsize c = k; c <= n_terms; c++)
        a[r][c] -= factor * a[k][c];
    }
}

SbLocalFit
sb_local_fit (const double *t, const double *y, gsize centre, gsize half, gsize degree)
{
  g_return_val_if_fail (degree <= SB_LOCAL_FIT_DEGREES && 2 * half >= degree, ((SbLocalFit){ NAN, NAN, NAN }));
  gsize first = centre - half, last = centre + half, n_terms = degree + 1;
  double scale = MAX (t[last] - t[centre], t[centre] - t[first]);
  double a[MOST_TERMS][MOST_TERMS + 1] = { 0 };
  for (gsize i = first; i <= last; i++)
    fill_normal_equations (a, n_terms, (t[i] - t[centre]) / scale, y[i] - y[centre]);
  solve (a, n_terms);
  return (SbLocalFit){
    .value = y[centre] + a[0][n_terms],
    .slope = degree >= 1 ? a[1][n_terms] / scale : 0,
    .curvature = degree >= 2 ? 2 * a[2][n_terms] / (scale * scale) : 0,
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

double
sb_local_quartic_extra_gain (gsize half)
{
  /* What the quartic adds to the slope's weights is orthogonal to them: the cubic of Gram's polynomials. */
  double s2 = 0, s4 = 0, s6 = 0;
  for (gsize k = 1; k <= half; k++) {
    double q = (double) k * (double) k;
    s2 += 2 * q;
    s4 += 2 * q * q;
    s6 += 2 * q * q * q;
  }
  double m = s4 / s2;
  return m / sqrt (s6 - m * s4);
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
