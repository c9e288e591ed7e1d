/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats planned from the scatter of an analysis: for the pair or, without one, for the first configuration with
 * usable trials. */
#pragma once

#include "analysis.h"
#include "plan.h"

#define SB_ALL_MEASURES ((1u << SB_N_MEASURES) - 1)

/* Whose scatter is planned with: side 0 or 1; NULL when there is none. */
const SbConfigurationResult *sb_analysis_planned_side (const SbAnalysis *analysis, int side);

/* NULL when no configuration has usable trials. Takes some hundredths of a second for all. Those of the bit mask
 * `measures` (1u << SbMeasureId) are planned, the others absent. (transfer full) */
SbPlan *sb_analysis_plan_new (const SbAnalysis *analysis, guint measures);

/* The plan that the analysis holds, since it was asked for one, which is of all measures; else one of these made now,
 * which is put into `made` too, to be freed. NULL as above. (transfer none) */
const SbPlan *sb_analysis_planned (const SbAnalysis *analysis, guint measures, SbPlan **made);
