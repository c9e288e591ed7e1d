/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small plot of one column of a file: its values over their order, between their smallest and largest. It tells a
 * ramp from a step from noise at a glance, and has no axes. */
#pragma once

#include <gtk/gtk.h>

#define SB_TYPE_COLUMN_PLOT (sb_column_plot_get_type ())
G_DECLARE_FINAL_TYPE (SbColumnPlot, sb_column_plot, SB, COLUMN_PLOT, GtkWidget)

GtkWidget *sb_column_plot_new (void);

/* `name` is the column's, `words` say what is to be seen: for assistive technology. NaN are gaps; n of 0: nothing to
 * draw. The values are copied. */
void sb_column_plot_set (SbColumnPlot *plot, const char *name, const char *words, const double *values, gsize n);

typedef struct {
  double low, high; /* of the values of one column of pixels; NaN: none */
} SbPlotSpan;

/* What each of `n_spans` columns of pixels shows: the extremes of its share of the values. With fewer values than
 * columns each value stands in the columns that are its share. */
void sb_column_plot_reduce (const double *values, gsize n, SbPlotSpan *spans, gsize n_spans);
