/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layouts that a bench states for its logs. */
#pragma once

#include "bench.h"

/* Puts `choice` in the place of the one that it replaces (layout_choice.h), or before all others. FALSE when that
 * changes nothing. */
gboolean sb_bench_state_layout (SbBench *edited, SbLayoutChoice *choice);

/* The layouts of a list that are not replaced by those of the bench, after them: what a bench states goes before what
 * is remembered or stated elsewhere. */
void sb_bench_take_layouts (SbBench *edited, const GPtrArray *choices);

/* The same, of `choices` those alone that are for a log of configuration `first` or a later one: what is remembered,
 * for logs that were added. Reads the heads of their files: call it off the main loop. */
void sb_bench_take_layouts_for_logs (SbBench *edited, const GPtrArray *choices, guint first, GCancellable *cancellable);

/* Takes layout `index` out. */
void sb_bench_withdraw_layout (SbBench *edited, guint index);

/* States `choice` (NULL: nothing any more) for the log at `path` alone, in all of its trials. */
void sb_bench_state_log_layout (SbBench *edited, const char *path, SbLayoutChoice *choice);

/* What is stated for single logs: path -> SbLayoutChoice, both borrowed. (transfer full) */
GHashTable *sb_bench_log_layouts (const SbBench *bench);
