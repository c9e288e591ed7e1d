/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A short stretch of a configuration's curve, colour and dash, on a chip of white paper: the chart's ground, on which
 * the colours were chosen, whatever the theme. */
#pragma once

#include <gtk/gtk.h>

GtkWidget *sb_curve_sample_new (guint style);
void sb_curve_sample_set_style (GtkWidget *sample, guint style);

/* A button that shows the sample and opens the styles to choose from; calls `chosen` (style, user_data). */
typedef void (*SbStyleChosen) (guint style, gpointer user_data);
GtkWidget *sb_style_button_new (SbStyleChosen chosen, gpointer user_data);
void sb_style_button_set (GtkWidget *button, guint style, const char *configuration_name);
