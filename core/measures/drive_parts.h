/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drive model of one configuration while it is being worked out. For the files of this folder only. The steps run
 * in the order in which they are declared here. */
#pragma once

#include "doubt.h"
#include "drive_motion.h"
#include "drive_search.h"

typedef struct {
  SbDriveModel *model; /* being filled */
  const SbEnsemble *ensemble;
  SbTrialFacts *const *facts; /* of the ensemble's trials */
  gsize n_facts;

  /* The window: points first .. first + n - 1 of the grid. Torque and velocity point into the ensemble. */
  gsize first, n;
  double *t_s; /* owned, n */
  const double *torque_nm, *velocity_rad_s;
  double *torque_sd_nm, *velocity_sd_rad_s; /* owned, n: of the mean curves, smoothed; 1 when there is no spread */
  gboolean known_spread;                    /* at least two repeats: the standard deviations are to scale */
  gboolean by_repeat;                       /* and they are kept: errors come from them */
  double travel_end_s;                      /* where the end of travel cut the window; NaN */

  /* What was commanded; NaN without a command. */
  double command_base_nm, command_top_nm;
  double command_ramp_s; /* time that the command itself takes from level to level; 0: a jump */

  SbTorqueFit torque_fit;
  double motion_x[SB_MOTION_PARAMETERS], start_rad_s;
  gboolean open[SB_N_DRIVE_PARAMETERS]; /* another parameter can make up for it, or nothing depends on it */
} SbDriveWork;

/* FALSE, with the reason in the model, when these curves cannot be fitted. */
gboolean sb_drive_take_window (SbDriveWork *work);
void sb_drive_work_clear (SbDriveWork *work);

/* Values and standard errors of the torque's, then of the motion's parameters. */
gboolean sb_drive_fit_torque (SbDriveWork *work);
void sb_drive_fit_motion (SbDriveWork *work);

/* Which of them stand; the stretches; what to doubt. */
void sb_drive_judge (SbDriveWork *work);

void sb_drive_set_absent (SbDriveWork *work, const char *format, ...) G_GNUC_PRINTF (2, 3);
void sb_drive_set_open (SbDriveWork *work, SbDriveParameterId id, const char *format, ...) G_GNUC_PRINTF (3, 4);
