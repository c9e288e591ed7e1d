/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The time that the curves of a chart cover. */
#pragma once

#include "chart_model.h"
#include "time_range.h"

SbTimeRange sb_model_reach (const SbChartModel *model);
