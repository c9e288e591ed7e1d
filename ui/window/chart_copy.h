/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts the chart on the clipboard as an export would write it: as PNG, and as SVG for programs that take drawings. */
#pragma once

#include "chart_model.h"
#include "document.h"

#include <gtk/gtk.h>

/* With the outcome; well: it is on the clipboard. */
typedef void (*SbChartCopied) (GtkWindow *window, gboolean well, const char *what);

/* The chart of `model`, on the paper that was last exported on; drawn in a worker. `model` is the copy's own (transfer
 * full); NULL: there is none, which is told. */
void sb_chart_copy (GtkWindow *window, SbDocument *document, SbChartModel *model, SbChartCopied copied);
