/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "comparable.h"

#include <math.h>

/* Scatter below this share of the figures is the rounding of sums: the same curve at another time of its log gives it.
 */
#define ROUNDING_RATIO 1e-12

static char *
reason_of_side (const char *side, const SbMeasureSummary *summary)
{
  return g_strdup_printf ("the %s has no such figure: %s", side,
                          summary->absent_reason != NULL ? summary->absent_reason : "no repeat has one");
}

char *
sb_why_not_comparable (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other,
                       gboolean alike_rates)
{
  if (sb_measure_info (id)->of_configuration)
    return g_strdup ("it is one figure for each configuration: without scatter there is nothing to judge it by");
  if (!reference->present)
    return reason_of_side ("reference", reference);
  if (!other->present)
    return reason_of_side ("other configuration", other);
  if (id == SB_MEASURE_TORQUE_SMOOTHNESS && !alike_rates)
    return g_strdup (SB_NOT_COMPUTED_ALIKE);
  if (reference->channel != other->channel)
    return g_strdup_printf (
        "different signals: the reference reads it from the %s, the other configuration from the %s",
        sb_channel_key (reference->channel), sb_channel_key (other->channel));
  if (reference->n < 2 || other->n < 2)
    return g_strdup_printf ("needs two trials on either side; there are %" G_GSIZE_FORMAT " and %" G_GSIZE_FORMAT,
                            reference->n, other->n);
  double size = fmax (fabs (reference->mean), fabs (other->mean));
  if (!(reference->sd + other->sd > ROUNDING_RATIO * size))
    return g_strdup ("every trial of a side gives the very same figure: without scatter there is nothing to judge by");
  return NULL;
}
