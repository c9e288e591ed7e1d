/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files dropped on a window are opened in it. */
#pragma once

#include "window.h"

/* Anywhere on `overlay`, which says so while something is held over it. */
void sb_file_drop_accept (GtkOverlay *overlay, SbWindow *window);
