/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole log over its time, with lines where it is cut. A line is dragged by the pointer; a double click beside the
 * lines asks for another one. What the lines mean is its owner's affair (step_sheet.h), who also has fields for them:
 * nothing here needs a pointer only.
 *
 * Signals:
 *   "cut-moved" (guint index, double at_s, gboolean done)   while and after dragging
 *   "cut-wanted" (double at_s) */
#pragma once

#include "log.h"

#include <gtk/gtk.h>

#define SB_TYPE_STEP_PLOT (sb_step_plot_get_type ())
G_DECLARE_FINAL_TYPE (SbStepPlot, sb_step_plot, SB, STEP_PLOT, GtkDrawingArea)

GtkWidget *sb_step_plot_new (SbLog *log);

/* `cuts`: double, rising times of the log; `has_step`: gboolean for each of the stretches between them. Copied. */
void sb_step_plot_set (SbStepPlot *plot, const GArray *cuts, const GArray *has_step);
