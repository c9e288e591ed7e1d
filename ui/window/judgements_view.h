/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What follows from the measures: whether each setting does what it says, whether stated figures are reached, what
 * differs between the compared pair. Each with its reasons.
 *
 * Signal: "show-setting" (const char *setting): its measure over its levels is to be shown. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_JUDGEMENTS_VIEW (sb_judgements_view_get_type ())
G_DECLARE_FINAL_TYPE (SbJudgementsView, sb_judgements_view, SB, JUDGEMENTS_VIEW, GtkBox)

GtkWidget *sb_judgements_view_new (SbDocument *document);

/* Looks at the results; the cards come with a step, or when the view is first shown: FALSE when they are up. */
void sb_judgements_view_update (SbJudgementsView *view);
gboolean sb_judgements_view_step (SbJudgementsView *view);

/* Settings and stated figures that are judged. */
guint sb_judgements_view_count (SbJudgementsView *view);
