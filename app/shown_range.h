/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the stretch of time that a chart was asked to show has anything in it. */
#pragma once

#include "analysis.h"

/* TRUE when no log reaches into the stretch, which is then said on stderr with how far they reach. */
gboolean sb_shown_range_say_empty (const char *command, const SbAnalysis *analysis);
