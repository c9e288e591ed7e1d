/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip at the foot of the window that tells how many logs are read, with a button to stop. It shows by itself when
 * reading lasts. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_BUSY_STRIP (sb_busy_strip_get_type ())
G_DECLARE_FINAL_TYPE (SbBusyStrip, sb_busy_strip, SB, BUSY_STRIP, GtkBox)

GtkWidget *sb_busy_strip_new (SbDocument *document);
