/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

/* So many pixels at the usual size of text, grown with the desktop's text scale: for what holds text. */
int sb_text_scale_px (GtkWidget *widget, int px);
