/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "residual.h"

#include <gsl/gsl_linalg.h>

#include <float.h>
#include <math.h>

/* The window is looked at in so many stretches, of at least so many samples. */
#define STRETCHES       256
#define STRETCH_SAMPLES 16
/* A stretch is loud above so many noise floors; the ringing is over after a sixteenth of quiet ones. */
#define LOUD        1.5
#define QUIET_SHARE 16
/* Rounding shows in steps that are whole multiples of the smallest one. */
#define ROUNDING_LOOKS 4096
#define FEWEST_STEPS   8
#define MOST_MULTIPLE  1000

void
sb_residual_fit_trend (SbResidual *residual)
{
  double length_s = residual->t[residual->first + residual->n - 1] - residual->start_s;
  double s[5] = { 0 }, p[3] = { 0 };
  for (gsize i = 0; i < residual->n; i++) {
    gsize k = residual->first + i;
    double u = (residual->t[k] - residual->start_s) / length_s, y = residual->y[k], u2 = u * u;
    s[1] += u;
    s[2] += u2;
    s[3] += u2 * u;
    s[4] += u2 * u2;
    p[0] += y;
    p[1] += y * u;
    p[2] += y * u2;
  }
  s[0] = (double) residual->n;
  double a[9] = { s[0], s[1], s[2], s[1], s[2], s[3], s[2], s[3], s[4] }, x[3] = { 0 };
  gsl_matrix_view normal = gsl_matrix_view_array (a, 3, 3);
  gsl_vector_view right = gsl_vector_view_array (p, 3), solution = gsl_vector_view_array (x, 3);
  if (gsl_linalg_cholesky_decomp1 (&normal.matrix) != 0
      || gsl_linalg_cholesky_solve (&normal.matrix, &right.vector, &solution.vector) != 0)
    return;
  residual->baseline[0] = x[0];
  residual->baseline[1] = x[1] / length_s;
  residual->baseline[2] = x[2] / (length_s * length_s);
}

double
sb_residual_tail_noise (const SbResidual *residual)
{
  gsize n = residual->n / 4;
  if (n < 3)
    return 0;
  const double *y = residual->y + residual->first + (residual->n - n);
  double squares = 0;
  for (gsize i = 1; i + 1 < n; i++) {
    double d = (y[i + 1] - y[i]) - (y[i] - y[i - 1]);
    squares += d * d;
  }
  return sqrt (squares / (6 * (double) (n - 2)));
}

/* Smallest step between neighbours that is more than the rounding of doubles. */
static double
smallest_step (const double *y, gsize n)
{
  double smallest = INFINITY, largest = 0;
  for (gsize i = 1; i < n; i++) {
    double d = fabs (y[i] - y[i - 1]);
    largest = fmax (largest, fabs (y[i]));
    if (d > 16 * DBL_EPSILON * largest && d < smallest)
      smallest = d;
  }
  return smallest;
}

double
sb_residual_rounding_noise (const SbResidual *residual)
{
  const double *y = residual->y + residual->first;
  gsize n = MIN (residual->n, ROUNDING_LOOKS), n_steps = 0, n_whole = 0;
  double step = smallest_step (y, n);
  for (gsize i = 1; i < n && isfinite (step); i++) {
    double multiple = fabs (y[i] - y[i - 1]) / step;
    if (multiple < 0.5 || multiple > MOST_MULTIPLE)
      continue;
    n_steps++;
    n_whole += fabs (multiple - round (multiple)) < 0.01 ? 1 : 0;
  }
  return n_steps >= FEWEST_STEPS && (double) n_whole >= 0.95 * (double) n_steps ? step / sqrt (12) : 0;
}

static double
stretch_squares (const SbResidual *residual, gsize from, gsize to)
{
  double squares[2] = { 0 };
  for (gsize i = from; i < to; i++) {
    double r = sb_residual_at (residual, i);
    squares[i % 2] += r * r;
  }
  return squares[0] + squares[1];
}

double
sb_residual_rms (const SbResidual *residual, double noise, gsize *n_loud)
{
  gsize n = residual->n, n_stretches = CLAMP (n / STRETCH_SAMPLES, 1, STRETCHES);
  gsize patience = MAX (2, n_stretches / QUIET_SHARE), quiet = 0, loud_end = 0;
  gboolean over = FALSE;
  double total = 0;
  for (gsize s = 0; s < n_stretches; s++) {
    gsize from = s * n / n_stretches, to = (s + 1) * n / n_stretches;
    double squares = stretch_squares (residual, from, to);
    total += squares;
    gboolean loud = sqrt (squares / (double) (to - from)) > LOUD * noise;
    quiet = loud ? 0 : quiet + 1;
    if (loud && !over)
      loud_end = to;
    over = over || quiet >= patience;
  }
  *n_loud = MIN (n, 2 * loud_end);
  return sqrt (total / (double) n);
}

void
sb_record_init (SbRecord *record, const SbResidual *residual, gsize n_samples, gsize block, gsize n_max)
{
  gsize n = MIN (n_samples / block, n_max);
  record->t_s = g_new (double, MAX (n, 1));
  record->y = g_new (double, MAX (n, 1));
  record->n = n;
  record->block = block;
  for (gsize k = 0; k < n; k++) {
    double t = 0, y = 0;
    for (gsize i = k * block; i < (k + 1) * block; i++) {
      t += residual->t[residual->first + i] - residual->start_s;
      y += sb_residual_at (residual, i);
    }
    record->t_s[k] = t / (double) block;
    record->y[k] = y / (double) block;
  }
  record->step_s
      = n > 1 ? (record->t_s[n - 1] - record->t_s[0]) / (double) (n - 1) : residual->interval_s * (double) block;
}

void
sb_record_clear (SbRecord *record)
{
  g_clear_pointer (&record->t_s, g_free);
  g_clear_pointer (&record->y, g_free);
}
