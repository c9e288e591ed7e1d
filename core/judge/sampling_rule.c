/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sampling_rule.h"

#include <math.h>

#define ALIKE_RATIO 0.01

gboolean
sb_onsets_are_as_late (double reference_late_s, double other_late_s)
{
  return fabs (reference_late_s - other_late_s) <= ALIKE_RATIO * fmax (reference_late_s, other_late_s);
}

void
sb_by_late_onsets (const SbMeasureSummary *reference, const SbMeasureSummary *other, double beyond[2])
{
  beyond[0] = beyond[1] = 0;
  if (sb_onsets_are_as_late (reference->onset_late_s, other->onset_late_s))
    return;
  beyond[0] = fmin (0, other->by_late_onset) - fmax (0, reference->by_late_onset);
  beyond[1] = fmax (0, other->by_late_onset) - fmin (0, reference->by_late_onset);
}

gboolean
sb_rates_are_alike (SbTrialFacts *const *reference, gsize n_reference, SbTrialFacts *const *other, gsize n_other)
{
  double least = INFINITY, most = 0;
  for (gsize i = 0; i < n_reference + n_other; i++) {
    double rate_hz = sb_trial_facts_rate_hz (i < n_reference ? reference[i] : other[i - n_reference]);
    least = fmin (least, rate_hz);
    most = fmax (most, rate_hz);
  }
  return most <= (1 + ALIKE_RATIO) * least;
}
