/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reference-level instants and what is read from them: IEEE Std 181-2011. */
#include "measure_result.h"

#include "levels.h"
#include "transition.h"

#include <math.h>

/* A sample interval beyond this share of the dead time is told. */
#define COARSE_SHARE 0.1
/* Noise crosses a level by itself when that is no more than so many standard deviations away. */
#define CROSSING_NOISES 3

static double
level_at (const SbTransition *transition, double share)
{
  return transition->base_nm + share * (transition->top_nm - transition->base_nm);
}

static void
set_no_step (SbReading *reading)
{
  static const SbMeasureId ids[]
      = { SB_MEASURE_MEAN_TORQUE_SLOPE, SB_MEASURE_TORQUE_TRANSITION_TIME, SB_MEASURE_DEAD_TIME };
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    sb_reading_set_absent (reading, ids[i], "%s", reading->no_step);
}

/* A torque that follows a slow command passes 10 % before the command is half way: so the search begins where the
 * torque was below it. */
static gboolean
find_crossings (SbReading *reading, const double *t, const double *y)
{
  SbTransition *transition = &reading->measures->transition;
  gsize last = reading->last, start = sb_reading_start (reading);
  double y10 = level_at (transition, 0.1), y50 = level_at (transition, 0.5), y90 = level_at (transition, 0.9);
  while (start > 0 && y[start] >= y10)
    start--;
  reading->i10 = sb_first_crossing (y, start, last, y10);
  reading->i50 = sb_first_crossing (y, reading->i10, last, y50);
  reading->i90 = sb_first_crossing (y, reading->i50, last, y90);
  if (reading->i90 == last) /* none; the same follows when one of the others is missing */
    return FALSE;
  double onset = reading->trial->onset_s;
  transition->t10_s = sb_crossing_time (t, y, reading->i10, y10) - onset;
  transition->t50_s = sb_crossing_time (t, y, reading->i50, y50) - onset;
  transition->t90_s = sb_crossing_time (t, y, reading->i90, y90) - onset;
  return TRUE;
}

void
sb_reading_doubt_resolution (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  gsize n = reading->i90 - reading->i10; /* samples from the 10 % instant to the 90 % instant */
  if (n >= SB_RESOLVED_SAMPLES)
    return;
  double limit = 0.8 * (transition->top_nm - transition->base_nm) / (4 * reading->trial->sample_interval_s);
  if (!isfinite (limit))
    return; /* so is the slope, which is absent */
  sb_measure_add_doubt (measure,
                        "under-resolved: %" G_GSIZE_FORMAT
                        " %s between 10 %% and 90 %% of the step; the steepest slope "
                        "this log could resolve is %.4g N·m/ms",
                        n, sb_samples (n), limit / 1e3);
}

/* First crossings are the noise's when it reaches as far as the 10 % level by itself. */
static void
doubt_crossings (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  double tenth = 0.1 * (transition->top_nm - transition->base_nm);
  if (CROSSING_NOISES * transition->noise_nm > tenth)
    sb_measure_add_doubt (measure,
                          "in the noise: the 10 %% level is %.3g N·m from the base, and the noise there is %.3g N·m",
                          tenth, transition->noise_nm);
}

static void
set_mean_slope (SbReading *reading)
{
  const SbTransition *transition = &reading->measures->transition;
  double t10 = transition->t10_s, t90 = transition->t90_s;
  double y10 = level_at (transition, 0.1), y90 = level_at (transition, 0.9);
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_MEAN_TORQUE_SLOPE, (y90 - y10) / (t90 - t10), t10, t90);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t10, y10, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t90, y90, 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_resolution (reading, measure);
  doubt_crossings (reading, measure);

  measure = sb_reading_set (reading, SB_MEASURE_TORQUE_TRANSITION_TIME, t90 - t10, t10, t90);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t10, y10, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t90, y90, 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_resolution (reading, measure);
  doubt_crossings (reading, measure);
}

/* The onset of a jump is its first sample at the new level: the command moved up to one interval earlier. */
static void
doubt_sampled_onset (const SbReading *reading, SbMeasure *measure)
{
  const SbTrial *trial = reading->trial;
  double interval_s = trial->sample_interval_s;
  gboolean on_a_sample = !(trial->time_s[trial->active_first] > trial->onset_s);
  if (trial->onset_from != SB_ONSET_FROM_COMMAND || !on_a_sample)
    return;
  measure->uncertainty = interval_s / sqrt (12); /* an even chance over the interval (GUM 4.3.7) */
  if (interval_s > COARSE_SHARE * fabs (measure->value))
    sb_measure_add_doubt (measure,
                          "coarse: the command's jump is known to one sample interval of %.3g ms, and the dead time "
                          "may be longer by as much",
                          1e3 * interval_s);
}

static void
set_dead_time (SbReading *reading)
{
  const SbTransition *transition = &reading->measures->transition;
  double t10 = transition->t10_s;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_DEAD_TIME, t10, fmin (0, t10), fmax (0, t10));
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t10, level_at (transition, 0.1), 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_onset (reading, measure);
  doubt_sampled_onset (reading, measure);
  doubt_crossings (reading, measure);
  if (t10 < 0)
    sb_measure_add_doubt (measure, "before the onset: the torque passes 10 %% of its step %.4g ms before the onset%s",
                          -1e3 * t10,
                          reading->trial->onset_from == SB_ONSET_FROM_COMMAND ? ", where the command is half way" : "");
}

void
sb_measure_transition (SbReading *reading)
{
  SbTransition *transition = &reading->measures->transition;
  transition->t10_s = transition->t50_s = transition->t90_s = NAN;
  if (reading->no_step == NULL
      && !find_crossings (reading, reading->trial->time_s, reading->trial->signal[SB_CHANNEL_TORQUE]))
    reading->no_step
        = g_strdup ("no rise: the torque does not cross 10 %, 50 % and 90 % of its step one after the other; "
                    "the onset may lie too late");
  if (reading->no_step != NULL) {
    set_no_step (reading);
    return;
  }
  transition->has_torque_step = TRUE;
  set_mean_slope (reading);
  set_dead_time (reading);
}
