/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The level about which a torque rings that has not come to rest. Its histogram has its modes at the crests, so the
 * level is the offset of a decaying oscillation fitted to it. For the files of this folder only. */
#pragma once

#include "reading.h"

typedef struct {
  double level_nm;
  double left_nm; /* amplitude of the oscillation at the end of the active window */
} SbRingingLevel;

/* Of the samples first..reading->last, the first of which is past the rise; `noise_nm` may be NaN and `bin_nm` is the
 * width of a bin of their histogram. FALSE when they end at rest within the noise or the bin, or when what they do is
 * no oscillation. */
gboolean
sb_ringing_level (const SbReading *reading, gsize first, double noise_nm, double bin_nm, SbRingingLevel *level);
