/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The instant at which a transition passes a level between its states, in a way that noise cannot move by crossing the
 * level several times.
 *
 * Without noise it is the first crossing, linear between the samples on either side (IEEE Std 181-2011). With noise it
 * is where a straight line meets the level, fitted by least squares to the samples around the crossing that belongs to
 * the transition: as many as the transition takes for 9 % of the step on either side, or fewer, until the noise hides
 * what the curve bends over them. So it goes over into the first crossing as the noise vanishes. */
#pragma once

#include <glib.h>

/* A transition from `base` to `top`, either way, with the standard deviation of the noise, 0 when there is none to be
 * seen. All in the unit of the signal. */
typedef struct {
  double base, top, noise;
} SbStates;

typedef struct {
  double t_s;           /* in the time of the samples */
  gsize before;         /* last sample at or before it */
  gsize n_points;       /* samples that it comes from: 2, or those of the line */
  double uncertainty_s; /* standard: by the noise, and by what a chord between two samples misses */
} SbCrossing;

/* How far a sample has to be beyond a level for the transition to have passed it for good: three standard deviations of
 * the noise, or 5 % of the step where that is less. */
double sb_crossing_clear (double step, double noise);

/* Where samples first..last pass 10, 50 and (n = 3) 90 % of the step, one after the other. FALSE, `crossing` untouched,
 * when they do not. */
gboolean sb_transition_crossings (const double *t, const double *y, gsize first, gsize last, const SbStates *states,
                                  gsize n, SbCrossing crossing[]);
