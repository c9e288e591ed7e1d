/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a batch command says of logs that it could read only in part or by a guess: there is no sheet to ask in. */
#pragma once

#include "analysis.h"

/* On stderr, a line for each doubt: the questions of the columns, once for all logs in which they are the same, and
 * tables that were not read. Nothing when all is stated. */
void sb_reading_doubts_say (const SbAnalysis *analysis);
