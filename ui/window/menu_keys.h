/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

/* To be called by what a menu's item does to the row that the menu belongs to: the keys would stay with the menu, which
 * goes with the row, and no shortcut would be heard. They go to the window. */
void sb_menu_let_keys_go (GtkWidget *row);

/* Opens the menu of a button (GtkMenuButton) that may be beyond the edge of what it is scrolled in: once it is in view.
 */
void sb_menu_open (GtkWidget *button);
