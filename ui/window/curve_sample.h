/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A short stretch of a configuration's curve, colour and dash, on a chip of white paper: the chart's ground, on which
 * the colours were chosen, whatever the theme. */
#pragma once

#include <gtk/gtk.h>

#define SB_CURVE_SAMPLE_WIDTH_PX  36
#define SB_CURVE_SAMPLE_HEIGHT_PX 18

GtkWidget *sb_curve_sample_new (guint style);
void sb_curve_sample_set_style (GtkWidget *sample, guint style);

/* The same without a widget of its own, its top left corner at x, y. */
void sb_curve_sample_snapshot (GtkSnapshot *snapshot, guint style, int x, int y);

/* A button that shows the sample and opens the styles to choose from; calls `chosen` (style, user_data). */
typedef void (*SbStyleChosen) (guint style, gpointer user_data);
GtkWidget *sb_style_button_new (SbStyleChosen chosen, gpointer user_data);
void sb_style_button_set (GtkWidget *button, guint style, const char *configuration_name);
