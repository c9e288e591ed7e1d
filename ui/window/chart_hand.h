/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person does to the document on its chart: callouts, dimming and drawing alone, onset and active window placed
 * by hand, reference and other swapped. By keys while the chart has the focus, by its menu (right button, Menu key), by
 * dragging. The actions are "chart.*" of the view. */
#pragma once

#include "chart_view.h"
#include "document.h"

/* For the life of the view; the document outlives it. */
void sb_chart_hand_attach (SbChartView *view, SbDocument *document);
