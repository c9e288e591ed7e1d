/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flat_tops.h"

#define SHORTEST_RUN 5

gsize
sb_flat_tops (const double *y, gsize first, gsize last, double clear, gsize *longest)
{
  double top = y[first];
  for (gsize i = first; i <= last; i++)
    top = y[i] > top ? y[i] : top;
  gsize n_runs = 0, length = 0;
  gboolean away = TRUE; /* has been clear of the top since the last run that counts */
  *longest = 0;
  for (gsize i = first; i <= last; i++) {
    length = y[i] >= top ? length + 1 : 0;
    if (y[i] < top - clear)
      away = TRUE;
    if (length == SHORTEST_RUN && away) {
      n_runs++;
      away = FALSE;
    }
    *longest = MAX (*longest, length);
  }
  return n_runs >= 2 ? n_runs : 0;
}
