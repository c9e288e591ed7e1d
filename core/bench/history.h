/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Undo and redo: a row of benches with the name of the step that led to each. Unlimited. */
#pragma once

#include "bench.h"

typedef struct SbHistory SbHistory;
SbHistory *sb_history_new (SbBench *first);
void sb_history_free (SbHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbHistory, sb_history_free)

SbBench *sb_history_current (const SbHistory *history); /* borrowed */

/* Makes `bench` (transfer full) the current one; `step` names what was done ("exclude run-03.csv"). What could be
 * redone is forgotten. */
void sb_history_push (SbHistory *history, SbBench *bench, const char *step);

/* Puts `bench` (transfer full) in place of the current one, which was reached by the same step; it counts as saved when
 * that one did. */
void sb_history_replace (SbHistory *history, SbBench *bench);

/* The name of the step that undo would take back or redo would do again; NULL when there is none. Borrowed. */
const char *sb_history_undo_step (const SbHistory *history);
const char *sb_history_redo_step (const SbHistory *history);
gboolean sb_history_undo (SbHistory *history);
gboolean sb_history_redo (SbHistory *history);

/* Whether the current bench is the one last marked as saved. */
void sb_history_mark_saved (SbHistory *history);
void sb_history_mark_unsaved (SbHistory *history); /* none of them is */
gboolean sb_history_is_saved (const SbHistory *history);
