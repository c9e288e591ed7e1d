/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The notices below the chart.
 *
 * Signal: "go-to" (int configuration, int trial, int measure), -1 for none, when a notice is activated. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_NOTICES_VIEW (sb_notices_view_get_type ())
G_DECLARE_FINAL_TYPE (SbNoticesView, sb_notices_view, SB, NOTICES_VIEW, GtkBox)

GtkWidget *sb_notices_view_new (SbDocument *document);

/* Looks at the results; the rows come with steps, a few at a time: FALSE when none is missing. */
void sb_notices_view_update (SbNoticesView *view);
gboolean sb_notices_view_step (SbNoticesView *view);
