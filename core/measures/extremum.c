/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "extremum.h"

#include "measure_result.h"
#include "measure_table.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* The count settles in a few passes. */
#define PASSES 12
/* The bias cannot be more than so many standard deviations: the largest of a million. */
#define MOST_DEVIATIONS 5

double
sb_largest_of_normal (double m)
{
  return fmax (0, gsl_cdf_ugaussian_Pinv ((m - 0.375) / (m + 0.25)));
}

static double
largest_of (const double *y, gsize n)
{
  double largest = y[0];
  for (gsize i = 1; i < n; i++)
    largest = y[i] > largest ? y[i] : largest;
  return largest;
}

double
sb_largest_bias (const double *y, gsize n, double sd)
{
  double largest = largest_of (y, n), bias = 0;
  gsize above = n;
  for (int pass = 0; pass < PASSES; pass++) {
    bias = sd * sb_largest_of_normal (2 * (double) above);
    gsize now = 0;
    for (gsize i = 0; i < n; i++)
      now += y[i] >= largest - bias ? 1 : 0;
    if (now >= above)
      break;
    above = MAX (now, 1);
  }
  return above > 1 ? bias : 0;
}

void
sb_measure_doubt_largest (SbMeasure *measure, SbMeasureId id, const double *y, gsize n, double sd, const char *remedy)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  if (!(sd > 0))
    return;
  measure->uncertainty = sd;
  if (sd * MOST_DEVIATIONS < SB_BIAS_SHARE * fabs (measure->value))
    return;
  measure->bias = sb_largest_bias (y, n, sd);
  measure->uncertainty = hypot (sd, measure->bias); /* it is told and not taken off */
  if (measure->bias > SB_BIAS_SHARE * fabs (measure->value))
    sb_measure_add_doubt (measure,
                          "raised by noise: the largest of many noisy samples lies above the true one, here by about "
                          "%.2g %s; %s",
                          measure->bias * info->display_factor, info->display_unit, remedy);
}

double
sb_reading_base_sd (const SbReading *reading, const double *y)
{
  gsize n = reading->first;
  double mean = 0, squares = 0;
  if (n < 2)
    return NAN;
  for (gsize i = 0; i < n; i++)
    mean += y[i] / (double) n;
  for (gsize i = 0; i < n; i++)
    squares += (y[i] - mean) * (y[i] - mean);
  return sqrt (squares / (double) (n - 1));
}
