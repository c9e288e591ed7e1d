/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The controls of the spread and the sweep: which measures, over which setting, the repeats in order, those left out.
 */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_POINT_TOOLS (sb_point_tools_get_type ())
G_DECLARE_FINAL_TYPE (SbPointTools, sb_point_tools, SB, POINT_TOOLS, GtkBox)

GtkWidget *sb_point_tools_new (SbDocument *document);
void sb_point_tools_update (SbPointTools *tools);
