/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The passes over the logs that fill an analysis: each log worked out and averaged, without being kept unless asked. */
#pragma once

#include "analysis.h"
#include "workers.h"

/* Whether logs stay in memory once they are measured. */
gboolean sb_analysis_keeps_trials (const SbBench *bench, SbCache *cache, SbAnalysisFlags flags);

/* Reads the logs of all trials that `analysis` lists; fills their facts, measures and failures, the ensembles of the
 * configurations and the difference curves. FALSE when cancelled. */
gboolean sb_analysis_read_logs (SbAnalysis *analysis, SbAnalysisFlags flags, const SbWorkContext *context);
