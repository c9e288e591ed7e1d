/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line of widgets beside each other of which one is text that wraps.
 *
 * A horizontal GtkBox finds the height of such a line by halving, and the label in it its width by halving again, at
 * every step: one notice of 250 letters costs some 400 layouts of its text, 150 ms in which no key is heard. A grid
 * asks the label once for each width. What it tells when no width is given is the height at its narrowest, of a letter
 * a line: it is for lists that are scrolled up and down, which give the width, and for nothing that has to fit a
 * window.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* An empty line with SPACING_PX between its widgets. */
GtkWidget *sb_wrap_line_new (int spacing_px);

/* Puts WIDGET (taken as gtk_box_append takes it) at the end of LINE. */
void sb_wrap_line_append (GtkWidget *line, GtkWidget *widget);

G_END_DECLS
