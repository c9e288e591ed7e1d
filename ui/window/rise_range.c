/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rise_range.h"

#include <math.h>

/* A straight rise takes so many times what it takes from 10 to 90 %. */
#define WHOLE_OF_TRANSITION 1.25

/* Of what the slowest takes. */
#define BEFORE 0.3
#define AFTER  1.8

/* From the onset until it is up; NaN: it has no transition. */
static double
time_up_s (const SbConfigurationResult *configuration)
{
  if (!configuration->drawn || configuration->summary == NULL)
    return NAN;
  const SbMeasureSummary *dead = &configuration->summary->measure[SB_MEASURE_DEAD_TIME];
  const SbMeasureSummary *transition = &configuration->summary->measure[SB_MEASURE_TORQUE_TRANSITION_TIME];
  if (!transition->present)
    return NAN;
  return (dead->present ? dead->mean : 0) + WHOLE_OF_TRANSITION * transition->mean;
}

gboolean
sb_rise_range (const SbAnalysis *results, SbTimeRange *range)
{
  double longest_s = 0;
  for (guint c = 0; c < results->configurations->len; c++)
    longest_s = fmax (longest_s, time_up_s (sb_analysis_configuration (results, c)));
  if (!(longest_s > 0))
    return FALSE;
  double step_s = pow (10, floor (log10 (longest_s)) - 1); /* an axis from −14 to 83 ms, not from −13.81 to 82.85 */
  *range = (SbTimeRange){ -step_s * ceil (BEFORE * longest_s / step_s), step_s * ceil (AFTER * longest_s / step_s) };
  return TRUE;
}
