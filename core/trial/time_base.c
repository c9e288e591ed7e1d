/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "time_base.h"

#include "trial.h"

#include <float.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* MAD of a normal distribution is its standard deviation over this. */
#define MAD_TO_SD 1.4826

/* Of n >= 1 values, which are reordered. */
static double
median (double *x, gsize n)
{
  double upper = gsl_stats_select (x, 1, n, n / 2);
  if (n % 2 == 1)
    return upper;
  return (gsl_stats_select (x, 1, n, n / 2 - 1) + upper) / 2;
}

/* The differences of decimal times carry the rounding of the times. Logs of one rate must come out equal, so the
 * interval is rounded to the digits that survive. */
static double
round_to_carried_digits (double interval, double rounding)
{
  double digits = floor (-log10 (rounding / interval)) - 1;
  char format[24], text[G_ASCII_DTOSTR_BUF_SIZE];
  snprintf (format, sizeof format, "%%.%de", (int) CLAMP (digits, 3, 12) - 1);
  return g_ascii_strtod (g_ascii_formatd (text, sizeof text, format, interval), NULL); /* not by the locale's comma */
}

static GArray *
find_gaps (const double *t, gsize n, double limit)
{
  GArray *gaps = g_array_new (FALSE, FALSE, sizeof (SbGap));
  for (gsize i = 1; i < n; i++)
    if (t[i] - t[i - 1] > limit) {
      SbGap gap = { t[i - 1], t[i] };
      g_array_append_val (gaps, gap);
    }
  return gaps;
}

/* In two lanes, so that a comparison need not wait for the one before. */
static void
range_of_differences (const double *t, gsize n, double *smallest, double *largest)
{
  double low[2] = { t[1] - t[0], t[1] - t[0] }, high[2] = { low[0], low[0] };
  for (gsize i = 1; i < n; i++) {
    double d = t[i] - t[i - 1];
    low[i % 2] = d < low[i % 2] ? d : low[i % 2];
    high[i % 2] = d > high[i % 2] ? d : high[i % 2];
  }
  *smallest = MIN (low[0], low[1]);
  *largest = MAX (high[0], high[1]);
}

/* Fewer differences say nothing of a drift. */
#define MIN_DRIFT_DIFFERENCES 30
/* A difference beyond this many intervals is a sample left out and no interval. */
#define LONGEST_INTERVAL 1.5
/* Standard deviations beyond which the means of the two thirds differ. */
#define DRIFT_DEVIATIONS 4

/* Of the differences from i0 up to i1 that are intervals. */
static double
mean_interval (const double *t, gsize i0, gsize i1, double interval)
{
  double sum = 0;
  gsize n = 0;
  for (gsize i = i0; i < i1; i++) {
    double d = t[i + 1] - t[i];
    if (d <= LONGEST_INTERVAL * interval) {
      sum += d;
      n++;
    }
  }
  return n > 0 ? sum / (double) n : interval;
}

/* The means of the first and the last third are two thirds of the log apart; a straight line through both is carried
 * to its ends. `spread` is how far the intervals themselves are apart: a sum of them is as uncertain as its ends. */
static double
find_drift (const double *t, gsize m, double interval, double jitter, double spread)
{
  gsize third = m / 3;
  if (m < MIN_DRIFT_DIFFERENCES)
    return 0;
  double change = 1.5 * (mean_interval (t, m - third, m, interval) - mean_interval (t, 0, third, interval));
  double by_chance = DRIFT_DEVIATIONS * 1.5 * jitter * sqrt (2.0 / (double) third);
  double by_ends = 3 * spread / (double) third;
  return fabs (change) > fmax (by_chance, by_ends) ? change / interval : 0;
}

SbTimeBase
sb_time_base (const double *t, gsize n)
{
  double smallest, largest;
  range_of_differences (t, n, &smallest, &largest);
  double rounding = 4 * DBL_EPSILON * fmax (fabs (t[0]), fabs (t[n - 1]));
  if (largest - smallest <= rounding) /* an even base: no need to sort for the median */
    return (SbTimeBase){
      .sample_interval_s = round_to_carried_digits ((t[n - 1] - t[0]) / (double) (n - 1), rounding),
      .jitter_s = 0,
      .gaps = g_array_new (FALSE, FALSE, sizeof (SbGap)),
    };

  gsize m = n - 1;
  g_autofree double *d = g_new (double, m);
  for (gsize i = 0; i < m; i++)
    d[i] = t[i + 1] - t[i];
  double interval = median (d, m);
  for (gsize i = 0; i < m; i++)
    d[i] = fabs (t[i + 1] - t[i] - interval);
  double jitter = MAD_TO_SD * median (d, m);
  return (SbTimeBase){
    .sample_interval_s = round_to_carried_digits (interval, rounding),
    .jitter_s = jitter <= rounding ? 0 : jitter,
    .drift
    = find_drift (t, m, interval, fmax (jitter, rounding), fmin (largest, LONGEST_INTERVAL * interval) - smallest),
    .gaps = find_gaps (t, n, 3 * interval),
  };
}
