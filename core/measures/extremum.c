/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "extremum.h"

#include "measure_result.h"
#include "steady_math.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* The count settles in a few passes. */
#define PASSES 12
/* The bias cannot be more than so many standard deviations: the largest of a million. Samples farther from the largest
 * than that need not be counted; the others are, in so many bins. */
#define MOST_DEVIATIONS 5
#define BINS            256

double
sb_largest_of_normal (double m)
{
  return fmax (0, gsl_cdf_ugaussian_Pinv ((m - 0.375) / (m + 0.25)));
}

double
sb_largest_scatter (double m)
{
  return 1 / sqrt (1 + 0.93 * sb_log (fmax (1, m)));
}

/* Values within so many bins' reach of the largest, itself among them. */
static void
count_near (const double *y, gsize n, gsize at, double sign, double bins_per_unit, gsize near[BINS])
{
  for (gsize i = 0; i < n; i++) {
    double bin = sign * (y[at] - y[i]) * bins_per_unit;
    if (bin < BINS)
      near[bin > 0 ? (gsize) bin : 0]++;
  }
  for (gsize b = 1; b < BINS; b++)
    near[b] += near[b - 1];
}

/* A crest is at most half an interval from a sample, evenly spread. */
double
sb_crest_between_samples (const double *y, gsize n, gsize at)
{
  if (at == 0 || at + 1 >= n)
    return 0;
  return sqrt (1.0 / 80) / 2 * fabs (y[at - 1] - 2 * y[at] + y[at + 1]);
}

SbLargest
sb_largest_of_noisy (const double *y, gsize n, gsize at, double sign, double sd)
{
  gsize near[BINS] = { 0 }, above = n;
  double bins_per_sd = (double) BINS / MOST_DEVIATIONS, bias = 0;
  count_near (y, n, at, sign, bins_per_sd / sd, near);
  for (int pass = 0; pass < PASSES; pass++) {
    bias = sb_largest_of_normal (2 * (double) above - 1);
    gsize now = near[MIN ((gsize) (bias * bins_per_sd), BINS - 1)];
    if (now >= above)
      break;
    above = MAX (now, 1);
  }
  return (SbLargest){
    .bias = above > 1 ? sd * bias : 0,
    .scatter = sd * (above > 1 ? sb_largest_scatter (2 * (double) above - 1) : 1),
    .sampling = sb_crest_between_samples (y, n, at),
  };
}

double
sb_largest_uncertainty (const SbLargest *largest)
{
  return hypot (hypot (largest->scatter, largest->bias), largest->sampling);
}

void
sb_measure_doubt_sampling (SbMeasure *measure, SbMeasureId id, double sampling, double whole)
{
  if (!(sampling > SB_BIAS_SHARE * fabs (whole)))
    return;
  g_autofree char *by = sb_figure (id, sampling, 2);
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                        "crest between samples: the true extremum lies beyond the farthest sample, by %s in the root "
                        "mean square of where it may fall; a higher sample rate would tell",
                        by);
}

void
sb_measure_doubt_largest (SbMeasure *measure, SbMeasureId id, const SbLargest *largest, const char *remedy)
{
  measure->bias = largest->bias;
  measure->uncertainty = sb_largest_uncertainty (largest); /* it is told and not taken off */
  g_autofree char *by = sb_figure (id, measure->bias, 2);
  if (measure->bias > SB_BIAS_SHARE * fabs (measure->value))
    sb_measure_add_doubt (measure, SB_DOUBT_BIAS,
                          "raised by noise: the largest of many noisy samples lies above the true one, here by about "
                          "%s; %s",
                          by, remedy);
  sb_measure_doubt_sampling (measure, id, largest->sampling, measure->value);
}
