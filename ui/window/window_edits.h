/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Onset and end of the active window placed by hand: each change is one named step of the history. Times are told
 * relative to the present onset of each trial; what is not known yet of a trial leaves it as it is. */
#pragma once

#include "document.h"

#define SB_EVERY_TRIAL (-1)

void sb_edit_move_onset (SbDocument *document, guint configuration, int trial, double by_s);
void sb_edit_set_active_end (SbDocument *document, guint configuration, int trial, double end_s);

/* Both are found by the program again. */
void sb_edit_find_window (SbDocument *document, guint configuration, int trial);

/* "Dead time 3.2 → 2.2 ms": the means of a configuration that differ between two results, at most so many; what is
 * beyond is counted. (transfer full) */
char *
sb_figures_changed (const SbConfigurationResult *before, const SbConfigurationResult *after, SbUnits units, guint most);
