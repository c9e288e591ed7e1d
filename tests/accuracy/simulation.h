/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seeded draws of one trial with a known truth, measured by the library, and what is learnt from many of them. */
#pragma once

#include "closed_form.h"
#include "make_trial.h"
#include "measure_table.h"

/* A torque that answers a command as a second-order system does after a dead time, and a velocity that rises
 * exponentially. In each draw the answer begins at another place between two samples. */
typedef struct {
  SecondOrder torque;
  double step_nm, dead_s;
  double velocity_rad_per_s, velocity_lag_s;
  double rate_hz, before_s, after_s;
  double noise_ratio; /* standard deviation over the step, of both signals */
} Case;

/* A step of 10 N·m at 250 rad/s, logged from 0.1 s before it to 0.4 s after it. */
static inline Case
second_order_case (double zeta, double rate_hz, double noise_ratio)
{
  return (Case){
    .torque = { .zeta = zeta, .wn_rad_per_s = 250 },
    .step_nm = 10,
    .dead_s = 2e-3,
    .velocity_rad_per_s = 40,
    .velocity_lag_s = 0.05,
    .rate_hz = rate_hz,
    .before_s = 0.1,
    .after_s = 0.4,
    .noise_ratio = noise_ratio,
  };
}

typedef struct {
  Case c;
  MadeTrials *made;
  SbTrial *trial;
  gsize n;
  double noise_nm, noise_rad_per_s;
  double shift_s;    /* of this draw */
  double gain;       /* of the velocity, 1 unless a repeat's own is set */
  double smoothness; /* a slow twin's, of samples without noise */
  MadeNoise random;
} Simulation;

void simulation_init (Simulation *simulation, const Case *c, guint64 seed);
void simulation_clear (Simulation *simulation); /* also one that was never made */

/* Another draw, measured. (transfer full) */
SbMeasures *simulation_draw (Simulation *simulation, const SbMeasureChoices *choices);

/* What is true of the draw just made; NaN for what has no truth of its own. */
double simulation_truth (const Simulation *simulation, SbMeasureId id);

/* The same for a command that jumped anywhere between its first sample at the new level and the one before, less the
 * half interval that it is off on average: what an uncertainty that counts the onset's in is about. */
double simulation_truth_of_jump (const Simulation *simulation, SbMeasureId id);

/* Errors of a measure over draws. */
typedef struct {
  gsize n, n_absent, n_doubted;
  double truth, error, square, told_bias;
  gsize n_known;   /* with an uncertainty */
  double z_square; /* (error / uncertainty)² */
  double u_square; /* uncertainty² */
} Tally;

void tally_add (Tally *tally, const SbMeasure *measure, double truth);
double tally_bias (const Tally *tally);
double tally_rmse (const Tally *tally);
double tally_sd (const Tally *tally);      /* about their own mean */
double tally_z (const Tally *tally);       /* root mean square of error over uncertainty */
double tally_u_ratio (const Tally *tally); /* root mean square uncertainty over root mean square error */
