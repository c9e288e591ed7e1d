/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a log has enough samples on the rise. For the files of this folder only. */
#pragma once

#include "reading.h"

/* Fewer samples than this between 10 % and 90 % do not show a slope. */
#define SB_RESOLVED_SAMPLES 5

/* Says so, with the steepest slope that this log could resolve: 0.8 ΔT / (4 Δ). */
void sb_reading_doubt_resolution (const SbReading *reading, SbMeasure *measure);
