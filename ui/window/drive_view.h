/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fitted models of the drives: a row per parameter, a column per drawn configuration, below them which limit binds
 * when and what to doubt. Hidden while no model is asked for. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_DRIVE_VIEW (sb_drive_view_get_type ())
G_DECLARE_FINAL_TYPE (SbDriveView, sb_drive_view, SB, DRIVE_VIEW, GtkBox)

GtkWidget *sb_drive_view_new (SbDocument *document);

/* Looks at the results. */
void sb_drive_view_update (SbDriveView *view);
