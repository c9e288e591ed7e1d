/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Foot notes of a table of measures: why a figure is doubted or missing. What holds for several configurations, be it
 * with other figures, and for several measures of the same ones is one note: marked figures (doubt.h) are told from the
 * smallest to the largest, of other differences the first one's. Numbered from 1 on, row by row as the
 * table is read. */
#pragma once

#include "analysis.h"

/* Place of a note beside those of configurations: in the comparison. */
#define SB_NOTE_OF_COMPARISON (-1)

typedef struct SbResultNotes SbResultNotes;

/* Of the rows and configurations that the table shows, or of `all`; to be freed before the analysis. (transfer full) */
SbResultNotes *sb_result_notes_new (const SbAnalysis *analysis, gboolean all);
void sb_result_notes_free (SbResultNotes *notes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbResultNotes, sb_result_notes_free)

/* " [2, 5]" behind a cell; "" where there is nothing to note. (transfer full) */
char *sb_result_notes_mark (const SbResultNotes *notes, int configuration, SbMeasureId id);

guint sb_result_notes_count (const SbResultNotes *notes);

/* "Fern, overshoot, undershoot: the step has no plateau."; "All 12 configurations, peak velocity: still rising: the
 * velocity gains 4.36 to 5.04 rad/s": note `index`, from 0 on. (transfer full) */
char *sb_result_notes_text (const SbResultNotes *notes, guint index);
