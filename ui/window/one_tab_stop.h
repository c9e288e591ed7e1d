/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list that Tab enters once and leaves at once, as the authoring practices of WAI-ARIA ask of a grid: arrows move in
 * it. GTK's own list has a stop at every row. */
#pragma once

#include <gtk/gtk.h>

void sb_one_tab_stop (GtkListBox *list_box);
