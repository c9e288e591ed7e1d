/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the rise is: the stretch of time that most of what is measured happens in. */
#pragma once

#include "analysis.h"
#include "time_range.h"

/* From before the onset to well after the slowest drawn configuration has come up. FALSE: none of them has a transition. */
gboolean sb_rise_range (const SbAnalysis *results, SbTimeRange *range);
