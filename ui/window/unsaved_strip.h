/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unsaved work that was found, above everything else in the window: a line for each piece, to be opened or discarded.
 * What is neither stays where it is, and is offered again by the next window.
 *
 * Signal: "open" (gpointer work)   an SbUnsavedWork that the listener takes over */
#pragma once

#include "unsaved_work.h"

#include <gtk/gtk.h>

#define SB_TYPE_UNSAVED_STRIP (sb_unsaved_strip_get_type ())
G_DECLARE_FINAL_TYPE (SbUnsavedStrip, sb_unsaved_strip, SB, UNSAVED_STRIP, GtkBox)

GtkWidget *sb_unsaved_strip_new (GPtrArray *found); /* SbUnsavedWork; takes over the list */

/* "Unsaved work of 14:32 was found: bench, 3 configurations of 12 trials." `now` tells whether the day must be said.
 * (transfer full) */
char *sb_unsaved_strip_text (const SbUnsavedWork *work, GDateTime *now);
