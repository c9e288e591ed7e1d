/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The torque's side of the drive model: a step that a slope limit makes a ramp, a lag rounds off and a mode rings on.
 * For the files of this folder.
 *
 * With x = t − delay, ramp time w = (level − base) / slope and R the lag's response to a unit ramp:
 *   T(t) = base + slope · [R(x) − R(x − w)] + A e^(−a y) sin (2π f y),  y = t − start of ringing, none before it.
 * Without a slope limit the bracket becomes (level − base) · S(x) with S = R' the lag's step response. */
#pragma once

#include "drive_fit.h"
#include "drive_model.h"

/* Parameters in the order in which a form has them; sb_drive_torque_at() tells where. */
typedef enum {
  SB_TORQUE_BASE,
  SB_TORQUE_LEVEL,
  SB_TORQUE_DELAY,
  SB_TORQUE_LOG_SLOPE,
  SB_TORQUE_LOG_LAG,         /* first order: its time constant; second order: 1 / natural angular frequency */
  SB_TORQUE_LOG_LAG_DAMPING, /* second order */
  SB_TORQUE_RING_AMPLITUDE,
  SB_TORQUE_RING_START,
  SB_TORQUE_RING_FREQUENCY,
  SB_TORQUE_RING_DECAY, /* per s */
  SB_N_TORQUE,
} SbTorqueParameter;

/* A curve to fit: n times, values and standard deviations. */
typedef struct {
  gsize n;
  const double *t_s, *torque_nm, *sd_nm;
} SbTorqueCurve;

typedef struct {
  SbDriveForm form;
  SbTorqueCurve curve;
} SbTorqueProblem;

/* Where a parameter stands among those of the form; -1 when the form has it not. */
int sb_torque_place (SbDriveForm form, SbTorqueParameter which);
gsize sb_torque_n_parameters (SbDriveForm form);

/* Residuals (model − measured) / sd; an SbDriveResiduals with an SbTorqueProblem as data. */
void sb_torque_residuals (const double *x, gpointer problem, double *f, double *jacobian);

/* The model's torque at n times. */
void sb_torque_evaluate (SbDriveForm form, const double *x, const double *t_s, gsize n, double *torque_nm);

/* Seconds of the commanded ramp; 0 without a slope limit. */
double sb_torque_ramp_time (SbDriveForm form, const double *x);
