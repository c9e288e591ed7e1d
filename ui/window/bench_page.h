/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bench laid out: configurations at the left, chart with its controls and the notices in the middle, measures at
 * the right. Keeps its parts up with the document. */
#pragma once

#include "chart_model.h"
#include "document.h"
#include "figures_pane.h"

#include <gtk/gtk.h>

#define SB_TYPE_BENCH_PAGE (sb_bench_page_get_type ())
G_DECLARE_FINAL_TYPE (SbBenchPage, sb_bench_page, SB, BENCH_PAGE, GtkBox)

/* `width_px`: how wide it is going to be, for the first division into panes. */
GtkWidget *sb_bench_page_new (SbDocument *document, int width_px);

/* Before it is shown for the first time: it will be so wide. */
void sb_bench_page_expect_width (SbBenchPage *page, int width_px);

void sb_bench_page_fit (SbBenchPage *page);
gboolean sb_bench_page_fit_rise (SbBenchPage *page); /* FALSE: there is none, or no time is shown */
void sb_bench_page_zoom (SbBenchPage *page, double factor);
void sb_bench_page_go (SbBenchPage *page, int direction); /* -1: to the time shown before, 1: after */
void sb_bench_page_type_time (SbBenchPage *page);

/* The chart's view; a spread, sweep or plan is then of the measure chosen in the table. */
void sb_bench_page_show_view (SbBenchPage *page, SbView view);
void sb_bench_page_rename (SbBenchPage *page);

/* The path of the log that the focus is on, or of one in the selected configuration; NULL: none. Borrowed. */
const char *sb_bench_page_log (SbBenchPage *page);

SbFiguresPane *sb_bench_page_figures (SbBenchPage *page); /* borrowed */

/* The chart as shown. (transfer full); NULL: there are no results yet */
SbChartModel *sb_bench_page_chart (SbBenchPage *page);
