/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "smooth_curve.h"

#include "local_fit.h"

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
