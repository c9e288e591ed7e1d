/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "passage.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>

/* Beyond so many standard deviations a normal value is certain to be on its side. */
#define CERTAIN 8
/* The walk ends when no more than this is left. */
#define NEGLIGIBLE 1e-9
/* Passages that are told as possible leave out so much on either side. */
#define TAIL 0.01

/* A normal value known to be on one side of 0. */
typedef struct {
  double chance, mean, variance;
} Side;

/* `sign` +1: given that d + noise > 0. */
static Side
side_of (double d, double sd, double sign)
{
  double z = sign * d / sd;
  if (z > CERTAIN)
    return (Side){ 1, d, sd * sd };
  if (z < -CERTAIN)
    return (Side){ 0, 0, 0 };
  double chance = gsl_cdf_ugaussian_P (z), ratio = gsl_ran_ugaussian_pdf (z) / chance;
  return (Side){ chance, d + sign * sd * ratio, sd * sd * fmax (0, 1 - ratio * (ratio + z)) };
}

/* Instant at which the line from (before_s, below) to (at_s, above) meets 0, and its variance. */
static void
meet (double before_s, double at_s, const Side *below, const Side *above, double *instant_s, double *variance)
{
  double height = above->mean - below->mean, share = height > 0 ? -below->mean / height : 1;
  double slope = height / (at_s - before_s);
  *instant_s = before_s + share * (at_s - before_s);
  double spread = (1 - share) * (1 - share) * below->variance + share * share * above->variance;
  *variance = height > 0 ? fmin (spread / (slope * slope), (at_s - before_s) * (at_s - before_s) / 4) : 0;
}

static SbPassage
walk (const double *t, const double *d, gsize n, double sd, gboolean backward)
{
  double left = 1, sum = 0, mean = 0, square = 0, sooner_s = NAN, later_s = NAN;
  gsize start = backward ? n - 1 : 0;
  for (gsize k = 0; k < n && left > NEGLIGIBLE; k++) {
    gsize i = backward ? n - 1 - k : k;
    Side above = side_of (d[i], sd, 1);
    double chance = left * above.chance;
    left *= 1 - above.chance;
    if (!(chance > 0))
      continue;
    double instant_s = t[i] - t[start], variance = 0;
    if (k > 0) {
      gsize before = backward ? i + 1 : i - 1;
      Side below = side_of (d[before], sd, -1);
      if (below.chance > 0)
        meet (t[before] - t[start], t[i] - t[start], &below, &above, &instant_s, &variance);
    }
    if (!(sum > TAIL))
      sooner_s = instant_s;
    if (sum < 1 - TAIL && chance > NEGLIGIBLE)
      later_s = instant_s;
    sum += chance;
    mean += chance * instant_s;
    square += chance * (instant_s * instant_s + variance);
  }
  if (!(sum > 0))
    return (SbPassage){ NAN, NAN, NAN, NAN, 0 };
  mean /= sum;
  return (SbPassage){
    .mean_s = t[start] + mean,
    .sd_s = sqrt (fmax (0, square / sum - mean * mean)),
    .early_s = t[start] + fmin (sooner_s, later_s),
    .late_s = t[start] + fmax (sooner_s, later_s),
    .chance = sum,
  };
}

SbPassage
sb_first_passage (const double *t, const double *d, gsize n, double sd)
{
  return walk (t, d, n, sd, FALSE);
}

SbPassage
sb_last_passage (const double *t, const double *d, gsize n, double sd)
{
  return walk (t, d, n, sd, TRUE);
}
