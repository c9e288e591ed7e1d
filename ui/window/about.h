/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The about box. */
#pragma once

#include <gtk/gtk.h>

void sb_about_present (GtkWindow *parent);
