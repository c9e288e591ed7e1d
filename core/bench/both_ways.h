/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats that step up and repeats that step down, in one configuration: turned over they count as one test, and are
 * one only while the drive does the same either way. Inside of core/bench. */
#pragma once

#include "repeat_remarks.h"

/* Told once, of the first repeat that steps down, where two or more go either way and a measure that all of them have
 * differs between the ways: Welch's test, 5 % shared among those measures (Bonferroni), by 1 % of their mean or more.
 */
void sb_both_ways_find (const SbConfigurationResult *configuration, SbRepeatRemark remark);

/* The measures, as bits 1u << SbMeasureId, that differ so. */
guint sb_both_ways_differing (const SbConfigurationResult *configuration);
