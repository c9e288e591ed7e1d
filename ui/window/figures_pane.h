/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The right side of the window: the measures with the drive model below them, or what follows from them. */
#pragma once

#include "judgements_view.h"
#include "measures_view.h"

#define SB_TYPE_FIGURES_PANE (sb_figures_pane_get_type ())
G_DECLARE_FINAL_TYPE (SbFiguresPane, sb_figures_pane, SB, FIGURES_PANE, GtkBox)

GtkWidget *sb_figures_pane_new (SbDocument *document);

/* Looks at the results; what is slow to make comes with the steps: FALSE when all is up. */
void sb_figures_pane_update (SbFiguresPane *pane);
gboolean sb_figures_pane_step (SbFiguresPane *pane);

SbMeasuresView *sb_figures_pane_measures (SbFiguresPane *pane); /* borrowed */
SbJudgementsView *sb_figures_pane_judgements (SbFiguresPane *pane);

void sb_figures_pane_show_measures (SbFiguresPane *pane);
void sb_figures_pane_show_judgements (SbFiguresPane *pane);
void sb_figures_pane_turn (SbFiguresPane *pane); /* to the other of the two */
