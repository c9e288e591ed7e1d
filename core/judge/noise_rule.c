/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "noise_rule.h"

#include <math.h>

double
sb_noise_corrected (double p, double p_holm, double of_p)
{
  return of_p > 0 ? fmin (1, p * p_holm / of_p) : p;
}

gboolean
sb_noise_may_account (int verdict, gboolean differs, double difference, double by_noise, SbVerdictWithout without,
                      gconstpointer subject)
{
  static const double shares[] = { 1, 1 + SB_NOISE_KNOWN_TO };
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++) {
    double left = difference - shares[i] * by_noise;
    if ((differs && !(left * difference > 0)) || without (subject, shares[i]) != verdict)
      return TRUE;
  }
  return FALSE;
}
