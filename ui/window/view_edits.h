/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which view of the results the chart gives, and of what: each change is one named step of the history. An edit that
 * changes nothing is no step. */
#pragma once

#include "document.h"

/* `measure` (-1: as before) is what a spread, sweep or plan is then of. */
void sb_edit_set_chart_view (SbDocument *document, SbView view, int measure);

void sb_edit_set_measure (SbDocument *document, SbMeasureId measure);                  /* it alone */
void sb_edit_show_measure (SbDocument *document, SbMeasureId measure, gboolean shown); /* the last one stays */
void sb_edit_set_setting (SbDocument *document, const char *setting);
void sb_edit_show_label (SbDocument *document, SbLabelKind kind, gboolean shown);
void sb_edit_set_difference_only (SbDocument *document, gboolean only);
void sb_edit_show_sweep (SbDocument *document, const char *setting, SbMeasureId measure); /* as one step */
void sb_edit_show_plan (SbDocument *document, SbMeasureId measure);                       /* likewise */
void sb_edit_set_in_order (SbDocument *document, gboolean in_order);
void sb_edit_show_excluded (SbDocument *document, gboolean shown);
