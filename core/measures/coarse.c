/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "coarse.h"

#include "measure_result.h"
#include "quantum.h"

#include <math.h>

/* Noise of so many steps makes the rounding's mean error less than a 400th of one (Widrow 1961, from memory). */
#define DITHERED 0.5
/* A value that is no farther from a level than this many steps may be on it. */
#define ONE_STEP 1.5
/* Samples of a local mean: a share of the window at first, half as many where the signal leaves them. */
#define LONGEST_SHARE  16
#define FEWEST_SAMPLES 8

double
sb_coarse_step (const double *y, gsize n, double noise)
{
  double step = sb_quantum (y, n);
  return noise >= DITHERED * step ? 0 : step;
}

double
sb_coarse_noise (double noise, double step)
{
  return step > 0 ? fmax (isfinite (noise) ? noise : 0, step / sqrt (12)) : noise;
}

/* A signal that is coarse. */
typedef struct {
  const char *name;
  SbMeasureId peak; /* whose unit the step is in */
  double step, unknown;
} Coarse;

static void
set (SbReading *reading, const Coarse *coarse, SbMeasureId id, double resolution)
{
  SbMeasure *measure = sb_reading_measure (reading, id);
  if (!measure->present || !(resolution > 0) || !isfinite (resolution))
    return;
  measure->resolution = resolution;
  measure->uncertainty = hypot (isfinite (measure->uncertainty) ? measure->uncertainty : 0, resolution);
  if (!(sqrt (12) * resolution > SB_BIAS_SHARE * fabs (measure->value)))
    return;
  g_autofree char *step = sb_figure (coarse->peak, coarse->step, 3);
  sb_measure_add_doubt (measure, SB_DOUBT_STEPS,
                        "coarse steps: the %s is logged in steps of %s, more than its noise, which hide by how much "
                        "repeats scatter and are in the uncertainty, however many repeats there are",
                        coarse->name, step);
}

/* Largest mean of `n` samples in a row, and the smallest value among them. */
static double
largest_mean (const double *y, gsize first, gsize last, gsize n, double *smallest)
{
  double sum = 0, largest = -INFINITY;
  gsize end = last;
  for (gsize i = first; i <= last; i++) {
    sum += y[i] - (i >= first + n ? y[i - n] : 0);
    if (i + 1 < first + n || !(sum > largest))
      continue;
    largest = sum;
    end = i;
  }
  *smallest = INFINITY;
  for (gsize i = end + 1 - n; i <= end; i++)
    *smallest = fmin (*smallest, y[i]);
  return largest / (double) n;
}

/* How far the largest of samples that go to and fro by a step lies above their local mean: 0 .. a step. */
static double
raised_by (const double *y, gsize first, gsize last, double peak, double step)
{
  for (gsize n = (last + 1 - first) / LONGEST_SHARE; n >= FEWEST_SAMPLES; n /= 2) {
    double smallest, mean = largest_mean (y, first, last, n, &smallest);
    if (smallest >= peak - ONE_STEP * step)
      return CLAMP (peak - mean, 0, step);
  }
  return 0;
}

static void
raise_figure (SbReading *reading, const Coarse *coarse, SbMeasureId id, double by, double share)
{
  SbMeasure *measure = sb_reading_measure (reading, id);
  if (!measure->present || !(by > measure->bias))
    return;
  measure->bias = by;
  g_autofree char *step = sb_figure (coarse->peak, coarse->step, 3), *raised = sb_figure (id, by, 2);
  if (by > share)
    sb_measure_add_doubt (measure, SB_DOUBT_BIAS,
                          "raised by its steps: the %s goes to and fro by steps of %s, and the largest lies above the "
                          "true one, here by about %s",
                          coarse->name, step, raised);
}

static void
raise_peak (SbReading *reading, const Coarse *coarse, const double *y)
{
  const SbMeasure *peak = sb_reading_measure (reading, coarse->peak);
  double by = raised_by (y, reading->first, reading->last, peak->value, coarse->step);
  raise_figure (reading, coarse, coarse->peak, by, SB_BIAS_SHARE * fabs (peak->value));
}

/* Shares of the step: of one extremum and of the level that it counts from. What is no more than one of the log's steps
 * may be none. */
static void
set_excursion (SbReading *reading, const Coarse *coarse, SbMeasureId id, double step_nm)
{
  SbMeasure *measure = sb_reading_measure (reading, id);
  if (!measure->present)
    return;
  if (measure->value > 0 && measure->value * step_nm <= ONE_STEP * coarse->step) {
    measure->bias = measure->value;
    g_autofree char *step = sb_figure (coarse->peak, coarse->step, 3);
    sb_measure_add_doubt (measure, SB_DOUBT_IN_NOISE,
                          "within one step: it is no more than one of the steps of %s that the torque is logged in",
                          step);
  } else {
    const SbMeasure *peak = sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE);
    if (id == SB_MEASURE_OVERSHOOT && measure->value > 0)
      measure->bias = fmax (measure->bias, peak->bias / step_nm);
  }
  set (reading, coarse, id, sqrt (2) * coarse->unknown / step_nm);
}

static void
set_settling (SbReading *reading, const Coarse *coarse, double step_nm, double pace)
{
  const SbTransition *transition = &reading->measures->transition;
  const SbMeasure *measure = sb_reading_measure (reading, SB_MEASURE_SETTLING_TIME);
  double band = reading->choices.settling_band_ratio * step_nm;
  if (band < coarse->step / 2) {
    sb_reading_set_absent (reading, SB_MEASURE_SETTLING_TIME,
                           "finer than the log: the band of ± %.3g N·m is narrower than the steps of %.3g N·m that the "
                           "torque is logged in; a wider band, or a finer input, would tell",
                           band, coarse->step);
    return;
  }
  if (!measure->present)
    return;
  double tail_s = fmax (0, measure->value - transition->t90_s);
  set (reading, coarse, SB_MEASURE_SETTLING_TIME, coarse->unknown * hypot (pace, tail_s / band));
}

/* Both crossings are as uncertain as the step makes them, and so are the levels that they are shares of. */
static void
set_torque (SbReading *reading, const Coarse *coarse)
{
  const SbTransition *transition = &reading->measures->transition;
  double unknown = coarse->unknown, step = transition->top_nm - transition->base_nm;
  raise_peak (reading, coarse, reading->trial->signal[SB_CHANNEL_TORQUE]);
  set (reading, coarse, SB_MEASURE_PEAK_TORQUE, unknown);
  if (!transition->has_torque_step)
    return;
  double duration = transition->t90_s - transition->t10_s, pace = duration / (0.8 * step); /* s per N·m */
  double slope = sb_reading_measure (reading, SB_MEASURE_MEAN_TORQUE_SLOPE)->value;
  set (reading, coarse, SB_MEASURE_MEAN_TORQUE_SLOPE, slope * sqrt (2) * unknown * pace / duration);
  set (reading, coarse, SB_MEASURE_TORQUE_TRANSITION_TIME, sqrt (2) * unknown * pace * hypot (1, 0.8));
  set (reading, coarse, SB_MEASURE_DEAD_TIME, unknown * pace * hypot (1, hypot (0.9, 0.1)));
  set (reading, coarse, SB_MEASURE_PEAK_TORQUE_SLOPE, transition->slope_floor_nm_per_s);
  set_excursion (reading, coarse, SB_MEASURE_OVERSHOOT, step);
  set_excursion (reading, coarse, SB_MEASURE_UNDERSHOOT, step);
  set_settling (reading, coarse, step, pace);
  if (sb_measures_channel (reading->measures, SB_MEASURE_RINGING_AMPLITUDE) == SB_CHANNEL_TORQUE)
    set (reading, coarse, SB_MEASURE_RINGING_AMPLITUDE, unknown);
}

/* Seconds per rad/s from half of the 90 % level to it. */
static double
pace_of_rise (const SbReading *reading, double rise_s, double level)
{
  const double *y = reading->trial->signal[SB_CHANNEL_VELOCITY];
  gsize i = reading->first;
  while (i < reading->last && y[i] < level / 2)
    i++;
  return fmax (0, rise_s - sb_reading_time (reading, i)) / (level / 2);
}

/* A mean over a velocity that passes through many steps knows it better by as many. */
static void
set_velocity (SbReading *reading, const Coarse *coarse)
{
  const double *y = reading->trial->signal[SB_CHANNEL_VELOCITY];
  const SbMeasure *peak = sb_reading_measure (reading, SB_MEASURE_PEAK_VELOCITY);
  const SbMeasure *rise = sb_reading_measure (reading, SB_MEASURE_VELOCITY_RISE_TIME);
  if (!(reading->choices.smoothing_s > 0)) {
    raise_peak (reading, coarse, y);
    set (reading, coarse, SB_MEASURE_PEAK_VELOCITY, coarse->unknown);
  }
  set (reading, coarse, SB_MEASURE_MEAN_VELOCITY, coarse->unknown / fmax (1, fabs (peak->value) / coarse->step));
  if (rise->present)
    set (reading, coarse, SB_MEASURE_VELOCITY_RISE_TIME,
         hypot (1, 0.9) * coarse->unknown * pace_of_rise (reading, rise->value, 0.9 * peak->value));
}

void
sb_measure_coarse (SbReading *reading)
{
  const SbMeasures *measures = reading->measures;
  double torque = measures->transition.step_of_log_nm, velocity = measures->velocity_step_rad_s;
  if (torque > 0)
    set_torque (reading, &(Coarse){ "torque", SB_MEASURE_PEAK_TORQUE, torque, torque / sqrt (12) });
  if (velocity > 0)
    set_velocity (reading, &(Coarse){ "velocity", SB_MEASURE_PEAK_VELOCITY, velocity, velocity / sqrt (12) });
}
