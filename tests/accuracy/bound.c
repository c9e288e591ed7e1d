/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bound.h"

#include <gsl/gsl_linalg.h>
#include <math.h>

#define MOST 6

static void
invert (double *information, gsize n)
{
  gsl_matrix_view matrix = gsl_matrix_view_array (information, n, n);
  gsl_linalg_cholesky_decomp1 (&matrix.matrix);
  gsl_linalg_cholesky_invert (&matrix.matrix);
}

double
bound_of_first (double *information, gsize n)
{
  invert (information, n);
  return sqrt (information[0]);
}

/* Parameters: angular frequency and decay (both times 1 / scale), size, phase, offset, drift. */
RingingBound
ringing_bound (double amplitude, double decay, double omega, double phase, gsize n, double interval_s, double noise,
               gsize n_nuisance)
{
  gsize p = 4 + n_nuisance;
  double information[MOST * MOST] = { 0 };
  for (gsize i = 0; i < n; i++) {
    double t = (double) i * interval_s, e = exp (-decay * t), s = sin (omega * t + phase), c = cos (omega * t + phase);
    double row[MOST] = {
      amplitude * omega * t * e * c, -amplitude * omega * t * e * s, amplitude * e * s, amplitude * e * c, amplitude,
      amplitude * omega * t
    };
    for (gsize a = 0; a < p; a++)
      for (gsize b = 0; b < p; b++)
        information[a * p + b] += row[a] * row[b] / (noise * noise);
  }
  invert (information, p);
  double v_w = information[0], v_d = information[p + 1], v_wd = information[1], radius = hypot (decay, omega);
  double by_w = -decay * omega / pow (radius, 3), by_d = omega * omega / pow (radius, 3);
  return (RingingBound){
    .frequency_hz = sqrt (v_w) * omega / (2 * G_PI),
    .damping_ratio = omega * sqrt (by_w * by_w * v_w + by_d * by_d * v_d + 2 * by_w * by_d * v_wd),
  };
}
