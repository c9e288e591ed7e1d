/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reference-level instants and what is read from them: IEEE Std 181-2011. */
#include "measure_result.h"

#include "crossing_again.h"
#include "levels.h"
#include "transition.h"

#include <math.h>

/* Noise crosses a level by itself when that is no more than so many standard deviations away. */
#define CROSSING_NOISES 3
/* A dead time below 0 by so many standard uncertainties is no matter of the noise. */
#define SURE_ERRORS 2

static double
level_at (const SbTransition *transition, double share)
{
  return transition->base_nm + share * (transition->top_nm - transition->base_nm);
}

static void
set_absent (SbReading *reading, const char *reason)
{
  static const SbMeasureId ids[]
      = { SB_MEASURE_MEAN_TORQUE_SLOPE, SB_MEASURE_TORQUE_TRANSITION_TIME, SB_MEASURE_DEAD_TIME };
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    sb_reading_set_absent (reading, ids[i], "%s", reason);
}

/* A torque that follows a slow command passes 10 % before the command is half way: the search goes back to where the
 * torque was below it. */
static gboolean
find_crossings (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  SbTransition *transition = &reading->measures->transition;
  SbStates states = { transition->base_nm, transition->top_nm, transition->noise_nm };
  if (!sb_transition_crossings (trial->time_s, trial->signal[SB_CHANNEL_TORQUE], sb_reading_start (reading),
                                reading->last, &states, 3, reading->crossing))
    return FALSE;
  reading->i10 = reading->crossing[0].before;
  reading->i90 = reading->crossing[2].before;
  transition->n_rise = reading->i90 - reading->i10;
  for (gsize k = 0; k < 3; k++) {
    transition->crossing[k].n_points = reading->crossing[k].n_points;
    transition->crossing[k].uncertainty_s = reading->crossing[k].uncertainty_s;
  }
  transition->t10_s = reading->crossing[0].t_s - trial->onset_s;
  transition->t50_s = reading->crossing[1].t_s - trial->onset_s;
  transition->t90_s = reading->crossing[2].t_s - trial->onset_s;
  return TRUE;
}

void
sb_reading_doubt_resolution (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  double interval_s = sb_reading_torque_interval (reading);
  gsize n = (gsize) ((double) transition->n_rise * reading->trial->sample_interval_s / interval_s + 1e-6);
  if (n >= SB_RESOLVED_SAMPLES)
    return;
  double limit = 0.8 * (transition->top_nm - transition->base_nm) / (4 * interval_s);
  if (!isfinite (limit))
    return; /* so is the slope, which is absent */
  g_autofree char *steepest = sb_figure (SB_MEASURE_MEAN_TORQUE_SLOPE, limit, 4);
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                        "under-resolved: %" G_GSIZE_FORMAT
                        " %s between 10 %% and 90 %% of the step; the steepest slope "
                        "this log could resolve is %s",
                        n, sb_samples (n), steepest);
}

/* First crossings are the noise's when it reaches as far as the 10 % level by itself. */
static void
doubt_crossings (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  double tenth = 0.1 * (transition->top_nm - transition->base_nm);
  if (CROSSING_NOISES * transition->noise_nm > tenth)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "in the noise: the 10 %% level is %.3g N·m from the base, and the noise there is %.3g N·m",
                          tenth, transition->noise_nm);
}

/* A level that is off moves both crossings: by its share of what the transition takes. */
static double
moved_by_levels (const SbReading *reading, double of_base, double of_top)
{
  const SbTransition *transition = &reading->measures->transition;
  double pace = (transition->t90_s - transition->t10_s) / (0.8 * (transition->top_nm - transition->base_nm));
  return pace * hypot (of_base * reading->base_u_nm, of_top * reading->top_u_nm);
}

static void
doubt_left (const SbReading *reading, SbMeasure *measure, gsize k)
{
  const SbFall *fall = &reading->left[k];
  if (!fall->found)
    return;
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                        "%s %% level left again: the first crossing counts, and behind it the torque falls back to "
                        "%.2g %% of its step, %.4g ms after the onset, before it rises to %s",
                        k == 0 ? "10" : "90", 100 * fall->lowest_share, 1e3 * fall->at_s,
                        k == 0 ? "90 %" : "its top level");
}

static void
set_secant (SbReading *reading, SbMeasureId id, double value, double uncertainty)
{
  const SbTransition *transition = &reading->measures->transition;
  double t10 = transition->t10_s, t90 = transition->t90_s;
  SbMeasure *measure = sb_reading_set (reading, id, value, t10, t90);
  if (uncertainty > 0)
    measure->uncertainty = uncertainty;
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t10, level_at (transition, 0.1), 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t90, level_at (transition, 0.9), 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_resolution (reading, measure);
  sb_reading_doubt_held (reading, measure, SB_CHANNEL_TORQUE, "and either crossing may be late by as much");
  doubt_crossings (reading, measure);
}

/* A level that is off changes the duration and not the slope: of a straight rise the step and its duration grow alike.
 */
static void
set_mean_slope (SbReading *reading)
{
  const SbTransition *transition = &reading->measures->transition;
  double duration = transition->t90_s - transition->t10_s;
  double rise_nm = level_at (transition, 0.9) - level_at (transition, 0.1), slope = rise_nm / duration;
  double by_noise = hypot (reading->crossing[0].uncertainty_s, reading->crossing[2].uncertainty_s);
  set_secant (reading, SB_MEASURE_MEAN_TORQUE_SLOPE, slope, slope * by_noise / duration);
  set_secant (reading, SB_MEASURE_TORQUE_TRANSITION_TIME, duration,
              hypot (by_noise, moved_by_levels (reading, 0.8, 0.8)));
  for (gsize k = 0; k < 3; k += 2) {
    doubt_left (reading, sb_reading_measure (reading, SB_MEASURE_MEAN_TORQUE_SLOPE), k);
    doubt_left (reading, sb_reading_measure (reading, SB_MEASURE_TORQUE_TRANSITION_TIME), k);
    double other_s = k == 0 ? transition->t90_s - reading->again_s[0] : reading->again_s[2] - transition->t10_s;
    sb_reading_doubt_crossing (reading, sb_reading_measure (reading, SB_MEASURE_MEAN_TORQUE_SLOPE),
                               SB_MEASURE_MEAN_TORQUE_SLOPE, k, rise_nm / other_s);
    sb_reading_doubt_crossing (reading, sb_reading_measure (reading, SB_MEASURE_TORQUE_TRANSITION_TIME),
                               SB_MEASURE_TORQUE_TRANSITION_TIME, k, other_s);
  }
}

/* An estimated onset is carried back from the rise itself: the time from it to 10 % is a share of the rise, and says
 * nothing of how long after the command the rise began. */
static gboolean
counts_from_estimate (SbReading *reading)
{
  SbOnsetFrom from = reading->trial->onset_from;
  if (from != SB_ONSET_FROM_TORQUE && from != SB_ONSET_FROM_VELOCITY)
    return FALSE;
  sb_reading_set_absent (
      reading, SB_MEASURE_DEAD_TIME,
      "estimated onset: no step of a command was read from the log, and an onset carried back from the "
      "rise of the %s does not tell how long before it the command came; log the command, state "
      "what one in %% or V stands for, or place the onset by hand",
      sb_onset_from_key (from));
  return TRUE;
}

static void
set_dead_time (SbReading *reading)
{
  if (counts_from_estimate (reading))
    return;
  const SbTransition *transition = &reading->measures->transition;
  double t10 = transition->t10_s;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_DEAD_TIME, t10, fmin (0, t10), fmax (0, t10));
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, t10, level_at (transition, 0.1), 0);
  double crossing_u_s = hypot (reading->crossing[0].uncertainty_s, moved_by_levels (reading, 0.9, 0.1));
  double uncertainty_s = hypot (crossing_u_s, reading->trial->onset_uncertainty_s);
  if (uncertainty_s > 0)
    measure->uncertainty = uncertainty_s;
  sb_reading_doubt_levels (reading, measure);
  sb_reading_count_from_onset (reading, measure);
  doubt_crossings (reading, measure);
  sb_reading_doubt_crossing (reading, measure, SB_MEASURE_DEAD_TIME, 0, reading->again_s[0]);
  doubt_left (reading, measure, 0);
  if (t10 < 0)
    sb_measure_add_doubt (
        measure, SB_DOUBT_TOLD, "before the onset: the torque passes 10 %% of its step %.4g ms before the onset%s%s",
        -1e3 * t10, reading->trial->onset_from == SB_ONSET_FROM_COMMAND ? ", where the command is half way" : "",
        t10 < -SURE_ERRORS * uncertainty_s ? ": is the time of the command, or the onset, right?" : "");
}

void
sb_measure_transition (SbReading *reading)
{
  SbTransition *transition = &reading->measures->transition;
  transition->t10_s = transition->t50_s = transition->t90_s = NAN;
  reading->again_s[0] = reading->again_s[1] = reading->again_s[2] = NAN;
  if (reading->no_step == NULL && !find_crossings (reading))
    reading->no_step
        = g_strdup ("no rise: the torque does not cross 10 %, 50 % and 90 % of its step one after the other; "
                    "the onset may lie too late");
  if (reading->no_step != NULL) {
    set_absent (reading, reading->no_step);
    return;
  }
  transition->has_torque_step = TRUE;
  if (reading->no_top != NULL) {
    set_absent (reading, reading->no_top);
    return;
  }
  for (gsize k = 0; k < 3; k += 2) {
    reading->again_s[k] = sb_crossing_again (reading, k);
    if (!isfinite (reading->again_s[k]))
      reading->left[k] = sb_crossing_left (reading, k);
  }
  set_mean_slope (reading);
  set_dead_time (reading);
}
