/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The slope window. For the files of this folder only. */
#pragma once

#include "reading.h"

/* Half the slope window in samples: the window has 2 * half + 1, five at least. */
gsize sb_slope_half (const SbMeasureChoices *choices, double interval_s);

/* Samples at which a slope of the transition is taken: from 10 % to 90 %, one slope window wider at each end, as far as
 * the log goes. FALSE when the log is shorter than one window. */
gboolean sb_slope_range (const SbReading *reading, gsize half, gsize *first, gsize *last);
