/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How steep each quarter of a rise is. */
#include "measure_result.h"

#include <math.h>

/* A line through fewer samples is no more than its ends. */
#define FEWEST_SAMPLES 3

/* Slope of the least-squares line through the samples from the time `from` on and before `to`; NaN when there are too
 * few. */
static double
line_slope (const SbReading *reading, double from, double to)
{
  const double *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  double sum_t = 0, sum_y = 0, sum_tt = 0, sum_ty = 0, offset = reading->measures->transition.base_nm;
  gsize n = 0;
  for (gsize i = reading->i10; i <= reading->last && sb_reading_time (reading, i) < to; i++) {
    double t = sb_reading_time (reading, i) - from;
    if (t < 0)
      continue;
    sum_t += t;
    sum_y += y[i] - offset;
    sum_tt += t * t;
    sum_ty += t * (y[i] - offset);
    n++;
  }
  double count = (double) n;
  return n >= FEWEST_SAMPLES ? (count * sum_ty - sum_t * sum_y) / (count * sum_tt - sum_t * sum_t) : (double) NAN;
}

void
sb_measure_rise_shape (SbReading *reading)
{
  SbTransition *transition = &reading->measures->transition;
  double quarter_s = (transition->t90_s - transition->t10_s) / SB_RISE_QUARTERS;
  for (int q = 0; q < SB_RISE_QUARTERS; q++) {
    double from = transition->t10_s + q * quarter_s;
    transition->quarter_nm_per_s[q]
        = transition->has_torque_step ? line_slope (reading, from, from + quarter_s) : (double) NAN;
  }
}
