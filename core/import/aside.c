/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "aside.h"

#include <math.h>

void
sb_aside_sum_add (SbAsideSum *summing, double value)
{
  double sum = summing->sum + value;
  summing->lost += fabs (summing->sum) >= fabs (value) ? (summing->sum - sum) + value : (value - sum) + summing->sum;
  summing->sum = sum;
  summing->smallest = summing->n == 0 ? value : MIN (summing->smallest, value);
  summing->largest = summing->n == 0 ? value : MAX (summing->largest, value);
  summing->n++;
}

SbAside
sb_aside_sum_finish (const SbAsideSum *summing)
{
  if (summing->n == 0)
    return (SbAside){ 0 };
  return (SbAside){ summing->n, (summing->sum + summing->lost) / (double) summing->n, summing->smallest,
                    summing->largest };
}
