/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A torque transducer whose volts at no torque were not stated, and that does not rest at 0 V: its torques may all be too
 * large or too small by as much. Inside of remarks.c. */
#pragma once

#include "repeat_remarks.h"

/* Of the first used trial of `configuration` that rests farther from zero, before the step, than a twentieth of the
 * step. */
void sb_transducer_zero_find (const SbConfigurationResult *configuration, SbRepeatRemark remark);
