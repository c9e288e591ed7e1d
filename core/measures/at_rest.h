/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a torque shows before the onset that is no noise: an oscillation that runs on into the response. For the files
 * of this folder only. */
#pragma once

#include "reading.h"

/* Fills swing_hz and swing_nm; `step` > 0 is that of the torque, N·m. */
void sb_reading_look_at_rest (SbReading *reading, double step);

/* What of it puts a figure in doubt that rests on the levels. */
void sb_reading_doubt_at_rest (const SbReading *reading, SbMeasure *measure);
