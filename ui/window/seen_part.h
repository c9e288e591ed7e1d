/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is scrolled out of sight is not drawn: of hundreds of rows the toolkit would draw every one for each frame, only
 * to cut it off at the edge. */
#pragma once

#include <gtk/gtk.h>

/* Of a child of what `view` scrolls, from within the snapshot of a parent of `view`, which comes before each frame in
 * which anything has moved. FALSE: it is out of sight. */
gboolean sb_seen_part_note (GtkWidget *part, GtkWidget *view);

/* Scrolls to a part that may not have its place yet. */
void sb_seen_part_bring (GtkWidget *part);
