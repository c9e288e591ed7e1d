/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "analysis.h"

/* Gives results back in a worker: those of ten thousand trials take longer to free than a frame lasts. Sets `*results`
 * to NULL, which it may be. */
void sb_let_go (SbAnalysis **results);
