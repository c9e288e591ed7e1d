/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mean, smallest and largest of a column that is not kept row by row. */
#pragma once

#include <glib.h>

typedef struct {
  gsize n;                        /* cells that are numbers, in rows that were kept; 0: no such column */
  double mean, smallest, largest; /* SI; without meaning when n is 0 */
} SbAside;

/* A summary in the making. Starts as zeros. The sum carries what rounding drops (Neumaier 1974), so that the mean of a
 * million cells is as good as its cells. */
typedef struct {
  gsize n;
  double sum, lost, smallest, largest;
} SbAsideSum;

void sb_aside_sum_add (SbAsideSum *summing, double value);
SbAside sb_aside_sum_finish (const SbAsideSum *summing);
