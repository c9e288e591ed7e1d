/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the logs of an analysis say when held against each other and against the session. Inside of analysis.c. */
#pragma once

#include "analysis.h"

/* Fills the remarks of each trial: a log that is not the one the session was saved with, and one that is byte for byte
 * the same as another of its configuration, much shorter than the others, or apart from them in its figures. */
void sb_remarks_add (SbAnalysis *analysis);
