/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the sampling of the levels may account for, as sampling_rule.h has it of two sides. */
#include "audit_parts.h"
#include "sampling_rule.h"

#include <math.h>

gboolean
sb_audit_rates_are_alike (const SbAuditWork *work)
{
  g_autoptr (GPtrArray) facts = g_ptr_array_new ();
  for (gsize k = 0; k < work->n_levels; k++)
    for (gsize i = 0; i < work->level[k]->n; i++)
      g_ptr_array_add (facts, work->level[k]->facts[i]);
  return sb_rates_are_alike ((SbTrialFacts *const *) facts->pdata, facts->len, NULL, 0);
}

/* Only what the rule looks at. */
static SbMeasureSummary
side_of (const SbAuditInput *level, SbMeasureId id, const SbAuditPoint *point)
{
  SbMeasureSummary side = { .sd = point->sd };
  for (gsize i = 0; i < level->n; i++) {
    const SbMeasure *measure = &level->measures[i]->measure[id];
    if (!measure->present || !(fabs (measure->by_late_onset) > 0))
      continue;
    side.by_late_onset += measure->by_late_onset / (double) point->n;
    side.onset_late_s += level->measures[i]->onset_late_s / (double) point->n;
  }
  return side;
}

/* Any two levels are as far beside what was found as the one that has most of it above and the one that has most below.
 */
SbAuditSampling
sb_audit_sampling (const SbAuditWork *work, SbMeasureId id)
{
  const SbAuditPoint *points = sb_audit_measure (work, id)->points;
  SbMeasureSummary first = side_of (work->level[0], id, &points[0]), side = first;
  SbAuditSampling sampling = { .averages_out = TRUE };
  double most = 0, least = 0;
  for (gsize k = 0; k < work->n_levels; k++) {
    side = side_of (work->level[k], id, &points[k]);
    most = fmax (most, side.by_late_onset);
    least = fmin (least, side.by_late_onset);
    sampling.averages_out = sampling.averages_out && sb_late_onsets_average_out (&first, &side);
  }
  sb_by_late_onsets (&first, &side, sampling.beyond);
  sampling.widest = most - least;
  return sampling;
}
