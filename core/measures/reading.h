/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One trial while it is being measured: what the steps of this folder hand on to one another. For the files of this
 * folder only. The steps run in the order in which they are declared here; each fills its measures and, where others
 * build on it, the fields it names. */
#pragma once

#include "crossing.h"
#include "extremum.h"
#include "measure.h"
#include "quiet_curve.h"

#include <math.h>

/* A fall of the torque back below a level that it had crossed. */
typedef struct {
  gboolean found;
  double lowest_share; /* the lowest that it comes to, of the step */
  double at_s;         /* when, s after the onset */
} SbFall;

typedef struct {
  const SbTrial *trial;
  SbMeasureChoices choices;
  gsize first, last;    /* active window, both ends in it */
  double end_s;         /* its end, s after the onset */
  SbMeasures *measures; /* being filled */

  /* Torque levels and crossings; meaningless while no_step is set. */
  char *no_step;              /* why nothing can be said of a torque step; NULL when there is one */
  char *no_top;               /* why its top level, and what is a share of the step, is not known; else NULL */
  gsize n_base;               /* samples that the base level comes from */
  double base_u_nm, top_u_nm; /* standard uncertainty of the levels by the noise; 0 where it is unknown */
  double swing_hz, swing_nm; /* of an oscillation before the onset, its amplitude at the onset; 0 where there is none */
  gsize peak;                /* sample of the largest torque in the active window */
  SbLargest peak_largest;    /* what noise does to it; all 0 where the noise is unknown */
  SbCrossing crossing[3];    /* of 10, 50 and 90 % */
  double again_s[3];         /* where noise could as well have put them, s after the onset; NaN where nowhere else */
  SbFall left[3];            /* behind the crossings of 10 and 90 % that could be nowhere else; see crossing_again.h */
  gsize i10, i90;            /* last sample before the first and the last of them */
  SbQuietCurve quiet;        /* of a torque that rings; without modes where it does not, or that is not known */
} SbReading;

/* Peak torque, state levels, plateau, noise. */
void sb_measure_torque_levels (SbReading *reading);

/* Crossings; mean slope, transition time, dead time. */
void sb_measure_transition (SbReading *reading);

/* transition.quarter_nm_per_s. */
void sb_measure_rise_shape (SbReading *reading);

/* Peak slope; transition.slope_half. */
void sb_measure_slope (SbReading *reading);

/* Spectral arc length of the torque's rate. */
void sb_measure_smoothness (SbReading *reading);

/* Frequency, damping, amplitude, cycles; the SbRinging record; quiet. */
void sb_measure_ringing (SbReading *reading);

/* Overshoot, undershoot, settling time. */
void sb_measure_settling (SbReading *reading);

/* Peak and mean velocity, rise time. Stands alone. */
void sb_measure_velocity (SbReading *reading);

/* Time of sample i, s after the onset. */
static inline double
sb_reading_time (const SbReading *reading, gsize i)
{
  return reading->trial->time_s[i] - reading->trial->onset_s;
}

/* The sample before the active window where there is one, so that a crossing just after the onset is seen. */
static inline gsize
sb_reading_start (const SbReading *reading)
{
  return reading->first > 0 ? reading->first - 1 : 0;
}

/* From one value of the torque to the next: a sample interval, or that in which the log has a new one. */
static inline double
sb_reading_torque_interval (const SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  return fmax (trial->refresh_s[SB_CHANNEL_TORQUE], trial->sample_interval_s);
}

/* Mean sample interval of samples first..last when all are alike to one part in 10^4; 0 when they are not and a fit
 * has to use the times as they are. */
double sb_reading_even_interval (const SbReading *reading, gsize first, gsize last);
