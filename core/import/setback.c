/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "setback.h"

#include <string.h>

/* Rows further apart than so many intervals leave room for one that comes late. */
#define GAP_INTERVALS 1.5

/* The first of the n rising times that is not below `time`. */
static gsize
find (const double *times, gsize n, double time)
{
  gsize low = 0;
  while (low < n) {
    gsize middle = low + (n - low) / 2;
    if (times[middle] < time)
      low = middle + 1;
    else
      n = middle;
  }
  return low;
}

static gboolean
same_values (double *const column[SB_N_CHANNELS], gsize a, gsize b)
{
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (column[c] != NULL && memcmp (&column[c][a], &column[c][b], sizeof (double)) != 0)
      return FALSE;
  return TRUE;
}

gboolean
sb_setback_contradicts (double *const column[SB_N_CHANNELS], gsize n_rows)
{
  const double *times = column[SB_CHANNEL_TIME];
  if (n_rows < 2)
    return FALSE;
  double time = times[n_rows], interval = (times[n_rows - 1] - times[0]) / (double) (n_rows - 1);
  gsize at = find (times, n_rows, time);
  if (at < n_rows && !(time < times[at]))
    return !same_values (column, at, n_rows);
  return at > 0 && at < n_rows && times[at] - times[at - 1] <= GAP_INTERVALS * interval;
}
