/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "smooth_curve.h"

#include "local_fit.h"

#include <math.h>

double
sb_smoothing_noise_gain (gsize half)
{
  double m = (double) half;
  return half == 0 ? 1 : sqrt (3 * (3 * m * m + 3 * m - 1) / ((2 * m + 3) * (2 * m + 1) * (2 * m - 1)));
}

double
sb_smoothed (const double *y, gsize i, gsize half)
{
  double m = (double) half, plain = 0, squares = 0;
  for (gsize j = i - half; j <= i + half; j++) {
    double k = (double) j - (double) i;
    plain += y[j];
    squares += k * k * y[j];
  }
  if (half == 0)
    return y[i];
  return 3 * ((3 * m * m + 3 * m - 1) * plain - 5 * squares) / ((2 * m + 3) * (2 * m + 1) * (2 * m - 1));
}

static double
smooth_value (const double *t, const double *y, gsize n_samples, gsize i, gsize half)
{
  gsize room = MIN (half, MIN (i, n_samples - 1 - i));
  return room == 0 ? y[i] : sb_local_fit (t, y, i, room, 2).value;
}

double *
sb_smooth_curve (const double *t, const double *y, gsize n_samples, gsize first, gsize last, gsize half)
{
  gsize stride = half / 4 + 1;
  double *smooth = g_new (double, last - first + 1);
  smooth[0] = smooth_value (t, y, n_samples, first, half);
  for (gsize from = first; from < last; from += stride) {
    gsize to = MIN (from + stride, last);
    double left = smooth[from - first], right = smooth_value (t, y, n_samples, to, half);
    for (gsize i = from + 1; i <= to; i++)
      smooth[i - first] = left + (right - left) * ((t[i] - t[from]) / (t[to] - t[from]));
  }
  return smooth;
}
