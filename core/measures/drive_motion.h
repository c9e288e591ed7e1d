/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The motion's side of the drive model: J dω/dt = T − b ω − Tc sgn ω under a torque given at even instants. For the
 * files of this folder. */
#pragma once

#include "drive_fit.h"

typedef struct {
  double inertia_kg_m2, damping_nm_s, friction_nm;
} SbMotion;

/* Velocity at n instants step_s apart from `start_rad_s` on, under a torque that is linear between them. Exact within a
 * step but for the instant at which a motion ends. At rest, a torque within the friction moves nothing. */
void sb_motion_run (const SbMotion *motion, const double *torque_nm, gsize n, double step_s, double start_rad_s,
                    double *velocity_rad_s);

/* What is fitted: the velocity at n instants with its standard deviations, and the torque that drives it. */
typedef struct {
  gsize n;
  double step_s, start_rad_s;
  const double *torque_nm, *velocity_rad_s, *sd_rad_s;
} SbMotionProblem;

#define SB_MOTION_PARAMETERS 3 /* ln inertia, damping, friction */

SbMotion sb_motion_from (const double *x);

/* An SbDriveResiduals with an SbMotionProblem as data. */
void sb_motion_residuals (const double *x, gpointer problem, double *f, double *jacobian);

/* From the impulse balance, which is linear in the parameters, and from two starts around it. FALSE when none converges
 * to an inertia that can be, with `x` untouched. `n_agreeing` counts the starts that came to the same end. */
gboolean sb_motion_fit (const SbMotionProblem *problem, double *x, guint *n_agreeing);
