/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many repeats on either side it takes to see a difference of a share that is chosen, measure by measure. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

/* Of the compared pair of `analysis`, or of its first configuration; NULL when there is nothing to plan from. A change
 * of the share is a step of the document's history. `*measure` is the one whose curve is drawn, which a person may
 * change: it must outlive the card. (transfer floating) */
GtkWidget *sb_plan_card_new (SbDocument *document, SbAnalysis *analysis, SbMeasureId *measure);

/* Draws the curve, for which the card has left no room yet: its arithmetic takes as long as that of the card. */
void sb_plan_card_draw (GtkWidget *card);
