/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's actions ("win.open", "win.undo", ...) with their keys, and which of them can be used now. */
#pragma once

#include "window.h"

void sb_actions_install (SbWindow *window, GtkApplication *application);
void sb_actions_update (SbWindow *window);
