/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a batch command says of logs that it could read only in part or by a guess: there is no sheet to ask in. */
#pragma once

#include "exit_status.h"

#include "analysis.h"

/* On stderr, a line for each doubt: the questions of the columns, once for all logs in which they are the same, and
 * tables that were not read. Nothing when all is stated. SB_EXIT_LEFT_OUT when a column was read past although it
 * speaks of a torque or another signal, or misses a value; else SB_EXIT_DONE. */
SbExitStatus sb_reading_doubts_say (const SbAnalysis *analysis);

/* Whether a column of the layout is read past so. */
gboolean sb_layout_leaves_out (const SbLayout *layout);
