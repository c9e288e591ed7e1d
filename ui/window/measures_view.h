/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measures table: rows by measure; the compared pair of configurations, their difference and the verdict first,
 * then the other drawn configurations.
 *
 * Signal: "chosen" (int measure, -1: none), so that the chart can mark where the number comes from. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_MEASURES_VIEW (sb_measures_view_get_type ())
G_DECLARE_FINAL_TYPE (SbMeasuresView, sb_measures_view, SB, MEASURES_VIEW, GtkBox)

GtkWidget *sb_measures_view_new (SbDocument *document);

/* What an empty view needs in width for a bench with `n_drawn` configurations drawn. */
int sb_measures_view_width_for (SbMeasuresView *view, guint n_drawn);

/* Looks at the results; the table itself comes with a step: FALSE when it is up. */
void sb_measures_view_update (SbMeasuresView *view);
gboolean sb_measures_view_step (SbMeasuresView *view);

/* Its buttons, to be put beside the title of the pane. Borrowed. */
GtkWidget *sb_measures_view_tools (SbMeasuresView *view);

/* What the buttons do. */
void sb_measures_view_explain (SbMeasuresView *view); /* nothing, when no row is chosen */
void sb_measures_view_open_choices (SbMeasuresView *view);
void sb_measures_view_open_table_choices (SbMeasuresView *view);

void sb_measures_view_choose (SbMeasuresView *view, int measure);
