/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sampling_rule.h"

#include <math.h>

#define ALIKE_RATES 0.01
/* Onsets that are later by a tenth of an interval at most put means apart by a twentieth of it, a sixth of what a free
 * clock scatters: mean intervals of few repeats whose times jitter are no more alike than that. */
#define ALIKE_ONSETS 0.1
/* Of the standard deviation that a free clock leaves: of 5 repeats over one, 54 in 1000 sides scatter less (simulated).
 */
#define LEAST_OF_FREE_CLOCK 0.5

gboolean
sb_onsets_are_as_late (double reference_late_s, double other_late_s)
{
  return fabs (reference_late_s - other_late_s) <= ALIKE_ONSETS * fmax (reference_late_s, other_late_s);
}

void
sb_by_late_onsets (const SbMeasureSummary *reference, const SbMeasureSummary *other, double beyond[2])
{
  beyond[0] = fmin (0, other->by_late_onset) - fmax (0, reference->by_late_onset);
  beyond[1] = fmax (0, other->by_late_onset) - fmin (0, reference->by_late_onset);
}

/* A clock that knows nothing of the command puts its jump anywhere in the interval, with an even chance: GUM 4.3.7. */
static gboolean
scatters_as_a_free_clock (const SbMeasureSummary *side)
{
  return side->sd >= LEAST_OF_FREE_CLOCK * fabs (side->by_late_onset) / sqrt (12);
}

gboolean
sb_late_onsets_average_out (const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  return sb_onsets_are_as_late (reference->onset_late_s, other->onset_late_s) && scatters_as_a_free_clock (reference)
         && scatters_as_a_free_clock (other);
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
  return most <= (1 + ALIKE_RATES) * least;
}
