/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outlying.h"

#include "statistics.h"

#include <math.h>
#include <string.h>

#define FEWEST_FOR_GRUBBS 7
#define FEWEST_FOR_ESD    15

/* The largest |value - mean| / s that the farthest of n normal values reaches at the level alpha, two-sided. Grubbs
 * 1969, Rosner 1983; e-Handbook 1.3.5.17. */
static double
critical_deviate (gsize n, double alpha)
{
  double t = sb_student_t (1 - alpha / (2 * (double) n), (double) n - 2);
  return ((double) n - 1) * t / sqrt (((double) n - 2 + t * t) * (double) n);
}

/* The value farthest from the mean among those not taken out. FALSE when all of them are equal. */
static gboolean
find_farthest (const double *values, const gsize *index, gsize n, SbOutlying *found, gsize *place)
{
  g_autofree double *left = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    left[i] = values[index[i]];
  double mean = sb_mean (left, n), sd = sb_sd (left, n);
  if (!(sd > 0))
    return FALSE;
  *place = 0;
  for (gsize i = 1; i < n; i++)
    if (fabs (left[i] - mean) > fabs (left[*place] - mean))
      *place = i;
  found->index = index[*place];
  found->statistic = fabs (left[*place] - mean) / sd;
  return TRUE;
}

static gsize *
all_of_them (gsize n)
{
  gsize *index = g_new (gsize, n);
  for (gsize i = 0; i < n; i++)
    index[i] = i;
  return index;
}

gboolean
sb_grubbs (const double *values, gsize n, double alpha, SbOutlying *found)
{
  if (n < 3)
    return FALSE;
  g_autofree gsize *index = all_of_them (n);
  gsize place;
  if (!find_farthest (values, index, n, found, &place))
    return FALSE;
  found->critical = critical_deviate (n, alpha);
  return found->statistic > found->critical;
}

gsize
sb_generalized_esd (const double *values, gsize n, gsize n_max, double alpha, SbOutlying *found)
{
  if (n_max < 1 || n < n_max + 2)
    return 0;
  g_autofree gsize *index = all_of_them (n);
  gsize n_outlying = 0;
  for (gsize k = 0; k < n_max; k++) {
    gsize n_left = n - k, place;
    if (!find_farthest (values, index, n_left, &found[k], &place))
      break;
    found[k].critical = critical_deviate (n_left, alpha);
    if (found[k].statistic > found[k].critical)
      n_outlying = k + 1;
    memmove (index + place, index + place + 1, (n_left - place - 1) * sizeof *index);
  }
  return n_outlying;
}

gsize
sb_outlying_find (const double *values, gsize n, double alpha, SbOutlying found[SB_MAX_OUTLYING])
{
  if (n < FEWEST_FOR_GRUBBS)
    return 0;
  if (n < FEWEST_FOR_ESD)
    return sb_grubbs (values, n, alpha, found) ? 1 : 0;
  return sb_generalized_esd (values, n, CLAMP (n / 10, 2, SB_MAX_OUTLYING), alpha, found);
}
