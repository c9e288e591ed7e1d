/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What pops up on the chart: its menu, and the field for the words of a callout. */
#pragma once

#include "bench.h"
#include "chart_view.h"

typedef struct {
  const SbConfiguration *configuration; /* whose curve is followed */
  gboolean on_callout;                  /* one is chosen */
} SbChartMenu;

void sb_chart_menu_show (SbChartView *view, const SbChartMenu *menu);

/* Calls `given` with what is entered; not when the field is left by Escape. */
typedef void (*SbChartTextFunc) (const char *text, gpointer user_data);
void sb_chart_menu_ask_text (SbChartView *view, const char *text, SbChartTextFunc given, gpointer user_data);
