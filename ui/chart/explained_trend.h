/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trend of a figure over the levels that one straight line explains: a figure that reaches a limit leaves it. */
#pragma once

#include "trend.h"

/* Theil-Sen through n values from the lowest level on, up to the highest one so that the mean at each level is on the
 * line within a tenth of its rise, or within what the values at the level span. Levels are left out at the upper end
 * alone, when the trend without them is steeper by a sixth or more, and three remain; else all count. `at` gets the
 * lowest and the highest level that do. FALSE when there is no trend. */
gboolean
sb_explained_trend (const double *x, const double *y, gsize n, SbTheilSen *trend, double at[2], gboolean *shortened);

/* Whether a line shows how the n values go: it comes by the means at more than half of the levels from at[0] to at[1]
 * within what the values there span, a tenth of its own rise or a quarter of what all of them span. */
gboolean sb_trend_meets_levels (const double *x, const double *y, gsize n, const SbTheilSen *trend, const double at[2]);
