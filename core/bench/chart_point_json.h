/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two points of the chart as the member "points" of the configuration that they are on. */
#pragma once

#include "bench.h"

#include <json-glib/json-glib.h>

/* Nothing where none is put. */
void sb_chart_points_build (JsonBuilder *builder, const SbChartPoint points[SB_N_CHART_POINTS]);

/* FALSE: a point is none; SB_SESSION_ERROR says which member. */
gboolean sb_chart_points_read (JsonObject *object, SbChartPoint points[SB_N_CHART_POINTS], GError **error);

/* FALSE: one of the two is on more than one configuration; SB_SESSION_ERROR says which. */
gboolean sb_chart_points_check (const SbBench *bench, GError **error);
