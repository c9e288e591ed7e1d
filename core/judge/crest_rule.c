/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crest_rule.h"

#include "noise_rule.h"

#include <math.h>

/* Floors so much alike that less than this of a crest hangs on them. */
#define ALIKE_CRESTS 0.1

/* A ringing that decays at the rate α has f/α crests to an e-fold, so that a floor r times as high hides f/α·ln r of
 * them: rounded up, as a crest is counted whole. What does not ring above the noise at all counts none. */
static double
crests_below_the_floor (const SbMeasureSummary *quiet, const SbMeasureSummary *noisy)
{
  if (!(quiet->mean > noisy->mean) || !(quiet->crests_per_fold > 0))
    return 0;
  double hidden = quiet->crests_per_fold * log (noisy->crest_floor / quiet->crest_floor);
  if (!(hidden > ALIKE_CRESTS))
    return 0;
  return 2 * noisy->n_without_ringing > noisy->n ? quiet->mean : ceil ((1 + SB_NOISE_KNOWN_TO) * hidden);
}

double
sb_by_crests (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  if (id != SB_MEASURE_RINGING_CYCLES)
    return reference->apart_by_crests + other->apart_by_crests;
  return reference->crest_floor < other->crest_floor ? crests_below_the_floor (reference, other)
                                                     : crests_below_the_floor (other, reference);
}
