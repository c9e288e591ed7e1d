/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measures table: rows by measure, a column per drawn configuration, then difference and verdict.
 *
 * Signal: "chosen" (int measure, -1: none), so that the chart can mark where the number comes from. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_MEASURES_VIEW (sb_measures_view_get_type ())
G_DECLARE_FINAL_TYPE (SbMeasuresView, sb_measures_view, SB, MEASURES_VIEW, GtkBox)

GtkWidget *sb_measures_view_new (SbDocument *document);
void sb_measures_view_update (SbMeasuresView *view);
void sb_measures_view_choose (SbMeasuresView *view, int measure);
