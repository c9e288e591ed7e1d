/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "levels.h"

#include <math.h>
#include <string.h>

/* Work that would wait for its own last result is done in four lanes: a plateau's values all fall into one bin, a sum
 * and a largest value depend on the one before. */
#define LANES 4

/* The mode of a state: so many values to a bin at least. The noise is clipped at so many standard deviations, in so
 * many passes at most. */
#define SAMPLES_PER_BIN  16
#define BASE_BINS        32
#define BASE_PASSES      16
#define MORE_THAN_A_STEP 1.01
#define CLIP_SDS         3

void
sb_value_range (const double *y, gsize n, double *lowest, double *highest)
{
  double low[LANES], high[LANES];
  for (gsize l = 0; l < LANES; l++)
    low[l] = high[l] = y[0];
  gsize whole = n - n % LANES;
  for (gsize i = 0; i < whole; i += LANES)
    for (gsize l = 0; l < LANES; l++) {
      low[l] = y[i + l] < low[l] ? y[i + l] : low[l];
      high[l] = y[i + l] > high[l] ? y[i + l] : high[l];
    }
  for (gsize i = whole; i < n; i++) {
    low[0] = y[i] < low[0] ? y[i] : low[0];
    high[0] = y[i] > high[0] ? y[i] : high[0];
  }
  for (gsize l = 1; l < LANES; l++) {
    low[0] = MIN (low[0], low[l]);
    high[0] = MAX (high[0], high[l]);
  }
  *lowest = low[0];
  *highest = high[0];
}

static guint64 *
count_bins (const double *y, gsize n, double lowest, double bins_per_unit, gsize n_bins)
{
  g_autofree guint32 *lane = g_new0 (guint32, LANES * n_bins);
  guint64 *count = g_new0 (guint64, n_bins);
  int last = (int) n_bins - 1;
  for (gsize i = 0; i < n; i++) {
    int bin = (int) ((y[i] - lowest) * bins_per_unit);
    bin = bin > last ? last : bin; /* the highest value belongs to the last bin */
    lane[(i % LANES) * n_bins + (gsize) bin]++;
  }
  for (gsize l = 0; l < LANES; l++)
    for (gsize b = 0; b < n_bins; b++)
      count[b] += lane[l * n_bins + b];
  return count;
}

/* Mean distance from `centre` of the values within from..to, and their number; 0 when there are none. */
static double
mean_above (const double *y, gsize n, double from, double to, double centre, gsize *n_inside)
{
  double sum[LANES] = { 0 };
  guint64 count[LANES] = { 0 };
  for (gsize i = 0; i < n; i++) {
    gboolean inside = y[i] >= from && y[i] <= to;
    sum[i % LANES] += inside ? y[i] - centre : 0;
    count[i % LANES] += inside ? 1 : 0;
  }
  for (gsize l = 1; l < LANES; l++) {
    sum[0] += sum[l];
    count[0] += count[l];
  }
  *n_inside = count[0];
  return count[0] > 0 ? sum[0] / (double) count[0] : 0;
}

double
sb_level_mode (const double *y, gsize n, gsize n_bins, double *plateau_share)
{
  g_return_val_if_fail (n >= 1 && n_bins >= 1 && n_bins <= G_MAXINT, NAN);
  double lowest, highest;
  sb_value_range (y, n, &lowest, &highest);
  double bins_per_unit = (double) n_bins / (highest - lowest);
  if (!(highest > lowest) || !isfinite (bins_per_unit)) {
    if (plateau_share != NULL)
      *plateau_share = 1;
    return lowest;
  }

  g_autofree guint64 *count = count_bins (y, n, lowest, bins_per_unit, n_bins);
  gsize fullest = 0;
  for (gsize b = 1; b < n_bins; b++)
    if (count[b] > count[fullest])
      fullest = b;

  /* Mean of the values themselves over the bin and its neighbours: a centre of bins would be off by up to half a bin.
   */
  double from = lowest + ((double) fullest - 1) / bins_per_unit;
  double to = lowest + ((double) fullest + 2) / bins_per_unit;
  double centre = lowest + ((double) fullest + 0.5) / bins_per_unit;
  gsize m;
  double above = mean_above (y, n, from, to, centre, &m);
  if (plateau_share != NULL)
    *plateau_share = (double) m / (double) n;
  return centre + above;
}

double
sb_level_near (const double *y, gsize n, double centre, double half_width, double *share)
{
  double sum[LANES] = { 0 }, count[LANES] = { 0 };
  gsize whole = n - n % LANES;
  for (gsize i = 0; i < whole; i += LANES)
    for (gsize l = 0; l < LANES; l++) {
      double d = y[i + l] - centre, inside = fabs (d) <= half_width ? 1 : 0;
      sum[l] += inside * d;
      count[l] += inside;
    }
  for (gsize i = whole; i < n; i++) {
    double d = y[i] - centre, inside = fabs (d) <= half_width ? 1 : 0;
    sum[0] += inside * d;
    count[0] += inside;
  }
  double m = (count[0] + count[1]) + (count[2] + count[3]);
  *share = m / (double) n;
  return m > 0 ? centre + ((sum[0] + sum[1]) + (sum[2] + sum[3])) / m : centre;
}

double
sb_step_to_and_fro (const double *y, gsize n)
{
  double smallest = (double) INFINITY, before = 0;
  for (gsize i = 1; i < n; i++) {
    double change = y[i] - y[i - 1];
    if (change * before < 0)
      smallest = fmin (smallest, fmin (fabs (change), fabs (before)));
    before = fabs (change) > 0 ? change : before;
  }
  return isfinite (smallest) ? smallest : 0;
}

/* Values of a coarse signal that lie a step beside the level are its noise: without them it would have none. */
SbBaseLevel
sb_level_base (const double *y, gsize n)
{
  double step = MORE_THAN_A_STEP * sb_step_to_and_fro (y, n);
  double share, level = sb_level_mode (y, n, CLAMP (n / SAMPLES_PER_BIN, 1, BASE_BINS), NULL);
  double reach = 0, squares = 0, m = 0, before = -1;
  for (gsize i = 0; i < n; i++)
    squares += (y[i] - level) * (y[i] - level);
  double widest = sqrt (squares / (double) n);
  for (int pass = 0; pass < BASE_PASSES && fabs (m - before) > 0; pass++) {
    before = m;
    reach = fmax (step, pass == 0 ? widest : CLIP_SDS * sqrt (squares / fmax (m, 1)));
    level = sb_level_near (y, n, level, reach, &share);
    squares = m = 0;
    for (gsize i = 0; i < n; i++) {
      double d = y[i] - level, inside = fabs (d) <= reach ? 1 : 0;
      squares += inside * d * d;
      m += inside;
    }
  }
  return (SbBaseLevel){ level, m >= 2 ? sqrt (squares / (m - 1)) : (double) NAN, (gsize) m };
}

gsize
sb_first_crossing (const double *y, gsize first, gsize last, double level)
{
  for (gsize i = first; i < last; i++)
    if (y[i] < level && y[i + 1] >= level)
      return i;
  return last;
}

double
sb_crossing_time (const double *t, const double *y, gsize i, double level)
{
  return t[i] + (t[i + 1] - t[i]) * ((level - y[i]) / (y[i + 1] - y[i]));
}
