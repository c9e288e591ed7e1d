/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window that lists the keys. */
#pragma once

#include <gtk/gtk.h>

void sb_shortcuts_present (GtkWindow *parent);
