/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The place that a reader has scrolled to, kept while what is scrolled is taken away and comes up again part by part:
 * until it has its size, the end of what there is would be the end of where one can be. Whoever scrolls meanwhile is
 * where that leads. */
#pragma once

#include <gtk/gtk.h>

/* Whether more is to come. */
typedef gboolean (*SbMoreToComeFunc) (gpointer user_data);

/* To be called before anything is taken away. Keeps the vertical place until a few frames after all has come; nothing
 * new when it is being kept already. `user_data` is borrowed and must live as long as the widget. */
void sb_scroll_place_keep (GtkScrolledWindow *scrolled, SbMoreToComeFunc more_to_come, gpointer user_data);
