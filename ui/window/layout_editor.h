/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a remembered layout says of its columns, to be changed without a file at hand.
 *
 * Signal "edited" (gpointer SbLayoutChoice *): as it is to be from now on. */
#pragma once

#include "layout_choice.h"

#include <gtk/gtk.h>

#define SB_TYPE_LAYOUT_EDITOR (sb_layout_editor_get_type ())
G_DECLARE_FINAL_TYPE (SbLayoutEditor, sb_layout_editor, SB, LAYOUT_EDITOR, GtkWindow)

GtkWidget *sb_layout_editor_new (GtkWindow *parent, const SbLayoutChoice *choice);
