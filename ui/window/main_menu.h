/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the primary menu lists: actions of the window (actions.h). */
#pragma once

#include <gtk/gtk.h>

/* `with_demo`: the demo bench is at hand. (transfer full) */
GMenuModel *sb_main_menu_new (gboolean with_demo);
