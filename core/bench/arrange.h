/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of configurations, and trials on their way from one to another. Roles and stated figures follow the
 * configurations that they are of. */
#pragma once

#include "bench.h"

/* Puts configuration `from` where configuration `to` stands; those in between move up or down by one. */
void sb_bench_reorder (SbBench *edited, guint from, guint to);

/* Moves the n trials, in their order, to the end of configuration `to`; see sb_bench_move_trial(). `trials` are sorted,
 * each once. */
void sb_bench_move_trials (SbBench *edited, guint from, const guint *trials, gsize n, guint to);

/* Moves every trial of configuration `from` into `into`, which takes its roles where it has none, its stated figures,
 * and its folder when it has none; `from` goes. */
void sb_bench_merge (SbBench *edited, guint from, guint into);

/* Moves the trials into a new configuration behind their own, named after it. Gives its index. */
guint sb_bench_split (SbBench *edited, guint index, const guint *trials, gsize n);

/* A copy behind it, of the same trials; new logs join the old one alone. Gives its index. */
guint sb_bench_duplicate (SbBench *edited, guint index);
