/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cells of a results table, worded alike in text and on a page. */
#pragma once

#include "analysis.h"

/* "12.30 ± 0.41", without the ± when there is no standard deviation; "12.30 ± 0.41 ?" when it has doubts; "–" when it
 * is absent. In the unit shown, which is left to the heading. (transfer full) */
char *sb_summary_cell (SbMeasureId id, SbUnits units, const SbMeasureSummary *measure);

#define SB_COMPARISON_CELLS 4

/* "Difference", "95 % interval", "p (Holm)", "Verdict". */
extern const char *const sb_comparison_headings[SB_COMPARISON_CELLS];

/* The cells under these headings, each "–" when the measure could not be compared. (transfer full) */
void sb_comparison_cells (SbMeasureId id, const SbBench *bench, const SbMeasureComparison *measure,
                          char *cells[SB_COMPARISON_CELLS]);
