/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The controls above the chart: which view of the results and the zoom, and below them what belongs to that view: which
 * panels, which band, a line per trial; or which measures (point_tools.h). */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_CHART_TOOLS (sb_chart_tools_get_type ())
G_DECLARE_FINAL_TYPE (SbChartTools, sb_chart_tools, SB, CHART_TOOLS, GtkBox)

GtkWidget *sb_chart_tools_new (SbDocument *document);
void sb_chart_tools_update (SbChartTools *tools);
