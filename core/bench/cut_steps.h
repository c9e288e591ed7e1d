/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs that hold several steps, cut into a trial per step, and joined again. Pure functions of a bench: each gives a
 * new one. Definitions: 'Several steps in one log' of docs/methods.md.
 *
 * Steps whose levels (mirrored where they go down) differ by more than 5 % of the step are no repeats of one another:
 * they go into configurations of their own, named after the configuration and their levels ("NAME, 0 → 10 N·m"), which
 * stand where that one stood and take its roles; those that are there already take their steps in. */
#pragma once

#include "analysis.h"

/* What a cut did, for a notice. */
typedef struct {
  gsize n_steps;
  gsize n_configurations; /* made for the steps' levels; 0: every step stays in its log's configuration */
  GPtrArray *logs;        /* char *: their paths */
} SbCutReport;

/* "6 steps of run-03.csv are a trial each." "24 steps of 4 logs are a trial each, in 3 configurations by their levels."
 * (transfer full) */
char *sb_cut_report_text (const SbCutReport *report);

/* "was cut into 6 steps, a trial each", what follows the name of the log; "were ..." of several. (transfer full) */
char *sb_cut_report_did (const SbCutReport *report);
void sb_cut_report_clear (SbCutReport *report);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbCutReport, sb_cut_report_clear)

/* The bench of the analysis with every whole log in which several steps were found cut into them. NULL when there is
 * nothing to cut: the bench measures first steps only, no such log, or those there are kept whole or have their onset
 * or end placed by hand. `report` is filled when something was cut. (transfer full) */
SbBench *sb_bench_cut_steps (const SbAnalysis *analysis, SbCutReport *report);

/* "0 → 10 N·m", to about a hundredth of the step; NULL when the levels are not known. (transfer full) */
char *sb_step_levels_text (double base_nm, double top_nm);

/* A trial cut by hand. */
typedef struct {
  double from_s, to_s;    /* NaN: start, end of the log */
  double base_nm, top_nm; /* levels of the command, as written; NaN when not known */
} SbCut;

/* The bench with the n >= 1 stretches `cuts` in place of every trial of the log `path`: in configuration `index` when
 * their levels are those of its other trials, which `others` states (NULL: there are none, or not known), else by their
 * levels. A trial stays left out, for the same reason, where most of its stretch is one that was; placed onsets and
 * ends stay with stretches that do. (transfer full) */
SbBench *
sb_bench_cut_at (const SbBench *bench, guint index, const char *path, const SbCut *cuts, gsize n, const SbCut *others);

/* The bench with every trial of the log `path` replaced by the whole log, in configuration `index`, which is kept whole
 * from now on. Configurations left without a trial go. (transfer full) */
SbBench *sb_bench_join_steps (const SbBench *bench, guint index, const char *path);

/* The bench with another choice of what becomes of logs with several steps; with SB_STEPS_FIRST every log that is cut
 * is whole again. (transfer full) */
SbBench *sb_bench_set_steps (const SbBench *bench, SbStepsChoice steps);
