/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands in a cell of the measures table, as text: the value on the first line, its scatter on the second, the
 * whole story in the tooltip. No widget here. */
#pragma once

#include "analysis.h"

typedef struct {
  char *value;   /* "12.3", or "–" when absent */
  char *detail;  /* "± 0.4", "0.8 to 1.6"; "" when there is none */
  char *tooltip; /* NULL when there is nothing more to say */
  gboolean absent;
  gboolean doubt; /* the tooltip holds reasons for doubt */
} SbMeasureCell;

void sb_measure_cell_clear (SbMeasureCell *cell);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbMeasureCell, sb_measure_cell_clear)

/* Mean ± s of a configuration; n in the detail where fewer trials have the measure than are used. */
SbMeasureCell sb_measure_cell_mean (const SbConfigurationResult *configuration, SbMeasureId id, SbUnits units);

/* Other - reference, with its 95 % interval. `comparison` may be NULL: nothing is compared. */
SbMeasureCell sb_measure_cell_difference (const SbComparison *comparison, SbMeasureId id, SbUnits units);

/* The verdict in the bench's words, with p after Holm's correction. */
SbMeasureCell sb_measure_cell_verdict (const SbComparison *comparison, SbMeasureId id, const SbBench *bench);
