/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the figures of the repeats say when held against each other: one that stands apart, or the farthest of a few, a
 * drift from the first to the last. Nothing is left out by itself. Inside of core/bench. */
#pragma once

#include "analysis.h"

/* Called with the trial of `configuration` that a sentence is about; `fact` is given away. What to do about it is a
 * sentence of its own. */
typedef void (*SbRepeatRemark) (SbTrialResult *trial, char *fact, const char *what_to_do);

/* Every measure is tested, so 5 % are shared among those that all used repeats have (Bonferroni). What is within 1 % is
 * passed over: figures read in steps of a sample or of a digit are alike without being equal. For a repeat that stands
 * apart no measure is tested that jumps: see scatters_about_one(). */
void sb_repeat_remarks_find (const SbConfigurationResult *configuration, SbUnits units, SbRepeatRemark remark);

/* The measures, as bits 1u << SbMeasureId, that drift from the first repeat to the last. */
guint sb_repeats_drifting (const SbConfigurationResult *configuration);
