/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flat_tops.h"

#include "levels.h"

#include <math.h>

#define SHORTEST_RUN 5
/* Fewer samples before the onset do not tell how often noise repeats a value. */
#define FEWEST_BEFORE 20
/* Noise that takes fewer values is below the channel's step: whether it repeats one hangs on where the level lies. */
#define FEWEST_VALUES 6
/* A coarse signal goes to and fro by one of its steps. */
#define MORE_THAN_STEPS 1.5
/* A run that noise makes more often than this in logs as long is no sign. */
#define RARE 1e-6

static gboolean
takes_enough_values (const double *y, gsize n)
{
  double value[FEWEST_VALUES] = { 0 };
  gsize n_values = 0;
  for (gsize i = 0; i < n; i++) {
    gsize k = 0;
    while (k < n_values && (y[i] < value[k] || y[i] > value[k]))
      k++;
    if (k < n_values)
      continue;
    value[n_values++] = y[i];
    if (n_values == FEWEST_VALUES)
      return TRUE;
  }
  return FALSE;
}

/* Chance that a sample has exactly the value of the one before it, from the n - 1 pairs of the n that nothing moves but
 * noise: Laplace's rule of succession. 1 where there are too few. A channel without noise, in coarse steps, or held
 * over several samples by its logger repeats its values there too. */
static double
chance_of_equal (const double *y, gsize n)
{
  if (n < FEWEST_BEFORE || !takes_enough_values (y, n))
    return 1;
  gsize n_equal = 0;
  for (gsize i = 1; i < n; i++)
    n_equal += y[i] >= y[i - 1] && y[i] <= y[i - 1] ? 1 : 0;
  return (double) (n_equal + 1) / (double) (n + 1);
}

static gboolean
noise_makes_such_a_run (const double *y, gsize first, gsize last, gsize length)
{
  return (double) (last + 1 - first) * pow (chance_of_equal (y, first), (double) length - 1) > RARE;
}

SbFlatTops
sb_flat_tops (const double *y, gsize first, gsize last, double clear)
{
  double top = y[first];
  for (gsize i = first; i <= last; i++)
    top = y[i] > top ? y[i] : top;
  clear = fmax (clear, MORE_THAN_STEPS * sb_step_to_and_fro (y + first, last + 1 - first));
  SbFlatTops tops = { 0 };
  gsize length = 0;
  gboolean away = TRUE; /* has been clear of the top since the last run that counts */
  for (gsize i = first; i <= last; i++) {
    length = y[i] >= top ? length + 1 : 0;
    if (y[i] < top - clear)
      away = TRUE;
    if (length == SHORTEST_RUN && away) {
      tops.n_runs++;
      away = FALSE;
    }
    tops.longest = MAX (tops.longest, length);
  }
  if (tops.n_runs == 1 && noise_makes_such_a_run (y, first, last, tops.longest))
    tops.n_runs = 0;
  return tops;
}
