/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a torque shows before the onset that is no noise: an oscillation that runs on into the response, or nothing at
 * all, where it is logged in coarse steps. For the files of this folder only. */
#pragma once

#include "reading.h"

/* Fills swing_hz, swing_nm and rounding_nm; `step` > 0 is that of the torque, N·m. Levels that coarse steps leave open
 * get their uncertainty. */
void sb_reading_look_at_rest (SbReading *reading, double step);

/* What of both puts a figure in doubt that rests on the levels. */
void sb_reading_doubt_at_rest (const SbReading *reading, SbMeasure *measure);
