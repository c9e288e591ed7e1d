/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Below a chart over time: the time shown as two numbers to be typed, back and forward, less and more of it. */
#pragma once

#include "chart_view.h"

#define SB_TYPE_TIME_BAR (sb_time_bar_get_type ())
G_DECLARE_FINAL_TYPE (SbTimeBar, sb_time_bar, SB, TIME_BAR, GtkBox)

GtkWidget *sb_time_bar_new (SbChartView *chart); /* which outlives it */
void sb_time_bar_type (SbTimeBar *bar);          /* the first number takes the keys */

/* "12,5" or "-3" in a number; FALSE when it is none. */
gboolean sb_time_bar_parse (const char *text, double *number);
