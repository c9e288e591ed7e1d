/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times that were shown, one after the other, to go back and forward among. Not part of the document: undo is. */
#pragma once

#include "time_range.h"

typedef struct SbZoomHistory SbZoomHistory;
SbZoomHistory *sb_zoom_history_new (void);
void sb_zoom_history_free (SbZoomHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbZoomHistory, sb_zoom_history_free)

/* `range` is shown now. What could be gone forward to is forgotten; the same range again is no visit. */
void sb_zoom_history_visit (SbZoomHistory *history, SbTimeRange range);

/* direction -1: back, 1: forward. */
gboolean sb_zoom_history_can_go (const SbZoomHistory *history, int direction);
SbTimeRange sb_zoom_history_go (SbZoomHistory *history, int direction); /* only where it can */
