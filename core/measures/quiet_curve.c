/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quiet_curve.h"

#include "steady_math.h"

#include <math.h>

/* Amplitude, phase, decay, frequency of each mode; offset and drift. */
#define PER_MODE  4
#define BESIDE    2
#define OF_A_REST 2

/* Offset and drift are what the fit gives them within its stretch; a line goes nowhere behind it. */
static double
line_at (const SbQuietCurve *curve, double t_s)
{
  return t_s <= curve->end_s ? curve->fit.offset + curve->fit.drift_per_s * (t_s - curve->start_s) : 0;
}

double
sb_quiet_curve_at (const SbQuietCurve *curve, double t_s)
{
  const SbModeFit *fit = &curve->fit;
  double u = t_s - curve->start_s, sum = curve->level_nm + line_at (curve, t_s);
  for (gsize m = 0; m < fit->n_modes; m++)
    sum += fit->mode[m].amplitude * sb_exp (-fit->mode[m].decay_per_s * u)
           * sb_cos (2 * G_PI * fit->mode[m].frequency_hz * u + fit->mode[m].phase_rad);
  return sum + (fabs (fit->rest) > 0 ? fit->rest * sb_exp (-fit->rest_decay_per_s * u) : 0);
}

double
sb_quiet_curve_reach (const SbQuietCurve *curve, double t_s)
{
  const SbModeFit *fit = &curve->fit;
  double u = t_s - curve->start_s, sum = fabs (line_at (curve, t_s));
  for (gsize m = 0; m < fit->n_modes; m++)
    sum += fit->mode[m].amplitude * sb_exp (-fit->mode[m].decay_per_s * u);
  return sum + fabs (fit->rest) * sb_exp (-fit->rest_decay_per_s * u);
}

double
sb_quiet_curve_left (const SbQuietCurve *curve, double noise)
{
  gsize parameters = PER_MODE * curve->fit.n_modes + BESIDE + (fabs (curve->fit.rest) > 0 ? OF_A_REST : 0);
  return noise * sqrt ((double) parameters / (double) MAX (curve->n_fitted, parameters));
}
