/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Callouts, and which curves are drawn faint or alone: each change is one named step of the history. */
#pragma once

#include "callout.h"
#include "document.h"

/* A blank text adds nothing. Returns its index among those of the configuration, -1 when nothing was added. */
int sb_edit_add_callout (SbDocument *document, guint configuration, SbPanel panel, double time_s, const char *text);
void sb_edit_set_callout_text (SbDocument *document, guint configuration, guint callout, const char *text);
void sb_edit_move_callout (SbDocument *document, guint configuration, guint callout, double x, double y);
void sb_edit_delete_callout (SbDocument *document, guint configuration, guint callout);

void sb_edit_set_dimmed (SbDocument *document, guint configuration, gboolean dimmed);

/* Draws this configuration alone; all, when it is alone already. */
void sb_edit_solo (SbDocument *document, guint configuration);

/* Reference and other trade places. */
void sb_edit_flip (SbDocument *document);
