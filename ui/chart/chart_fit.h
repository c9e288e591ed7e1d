/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a chart's text stands at the size asked for. On paper too small for all of it the painter sets smaller text,
 * rather than to leave anything out; whoever asked is told, with a size that would do. */
#pragma once

#include "chart_export.h"

/* "the text is set at 5.9 pt in place of 7 pt: 85 × 95 mm is too small for all of it. 85 × 115 mm would do, or less on
 * it: no foot line, no legend, fewer panels"; or that the legend went below, as its names are too wide for the right
 * side, or how many labels have no place in the panels, or that the title is cut; NULL when all stands as it was asked
 * for. (transfer full) */
char *sb_chart_fit_advice (const SbChartModel *model, const SbChartSize *size);
