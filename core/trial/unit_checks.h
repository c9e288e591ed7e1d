/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the signals of a trial say of one another's units: quotients that are about 1 when every unit is the one that
 * was taken. */
#pragma once

#include "trial.h"

typedef struct {
  double of_way; /* what the velocity adds up to over the active window (trapezoidal rule), by the way of the angle; NaN
                  * when either is not logged, or the angle turns by less than SB_UNIT_CHECKS_LEAST_WAY_RAD */
  double of_command; /* rise of the torque by that of its command: of its largest local mean where that falls short, of
                      * its mean over the last quarter where that goes beyond; NaN without either, or without a rise */
  double of_motion;  /* impulse of the torque, above its level before the onset, by J Δω, from the onset until the
                      * velocity has half of its largest value. Friction and load make it larger than 1, nothing but an
                      * outer torque makes it smaller; NaN without a measured torque, a velocity, a stated inertia, or
                      * a motion that stands clear of the noise */
  double
      by_motion_nm; /* the largest torque that J dω/dt says, at least, over a tenth of the active window; NaN likewise
                     */
} SbUnitChecks;

#define SB_UNIT_CHECKS_LEAST_WAY_RAD 0.05

/* Of a trial whose active window is placed. */
SbUnitChecks sb_unit_checks (const SbTrial *trial);
