/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows and columns of the measures table, as its choices want them: the same on the screen and in what is printed
 * or copied. */
#pragma once

#include "analysis.h"

/* The measures shown, in order; gives their number, 1 at least. */
gsize sb_table_rows (const SbAnalysis *analysis, SbMeasureId rows[SB_N_MEASURES]);

/* guint: the drawn configurations, in order; those without the measure they are ordered by come last. (transfer full)
 */
GArray *sb_table_configurations (const SbAnalysis *analysis);
