/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is told of the compared pair beside its table of measures, for results.h: difference curves, what would settle
 * an undecided measure, planned repeats. */
#pragma once

#include "analysis_plan.h"

#include <json-glib/json-glib.h>

/* The member "difference_curves" of the comparison being built. */
void sb_difference_curves_build (JsonBuilder *builder, const SbAnalysis *analysis);

/* The member "to_settle" of an undecided measure being built. */
void sb_settle_build (JsonBuilder *builder, const SbAnalysis *analysis, SbMeasureId id);

/* The member "planner" of the object being built; none unless chosen. */
void sb_plan_build (JsonBuilder *builder, const SbAnalysis *analysis);

/* Plain text below the table; "" when there is nothing to tell. (transfer full) */
char *sb_difference_curves_text (const SbAnalysis *analysis);
char *sb_settle_text (const SbAnalysis *analysis);
char *sb_plan_text (const SbAnalysis *analysis);

/* Stretches of a difference curve that are listed, those with the most area; the others are counted. */
#define SB_STRETCHES_LISTED 6

/* "13 smaller stretches (by difference times duration)"; NULL when all are told. (transfer full) */
char *sb_smaller_stretches_words (guint n, guint n_told);

/* " (beyond at 72 % of the instants)"; "" of one without returns to zero. (transfer full) */
char *sb_stretch_share_words (const SbDifferenceStretch *stretch);

/* "14 repeats on either side would show a difference as large as the one found, 5 more for Fern and 5 more for Moss;
 * ...": what would settle an undecided measure. (transfer full) */
char *sb_settle_words (const SbAnalysis *analysis, SbMeasureId id);

/* It is undecided since noise decides at which crests it is read, or how many stand above it. */
gboolean sb_is_open_by_crests (const SbMeasureComparison *measure);

/* "± 5 % of the reference mean (peak torque: ± 0.5 N·m)"; `mean` is what shares are of. (transfer full) */
char *sb_margins_words (const SbBench *bench, const char *mean);

/* A sentence below the table on what its p and verdicts mean; "" when nothing could be compared. (transfer full) */
char *sb_pair_rules (const SbAnalysis *analysis);

/* Sentences for the methods text; "" when there is no pair. (transfer full) */
char *sb_pair_methods (const SbAnalysis *analysis);

/* Measures without a plan, those with one reason in one line: "Overshoot, undershoot: in most repeats ...", without a
 * full stop. (transfer full; of char *) */
GPtrArray *sb_plan_absent (const SbPlan *plan);

/* A sentence for the methods text; "" unless repeats are planned. (transfer full) */
char *sb_plan_methods (const SbAnalysis *analysis);

/* Number of repeats of a plan, or "more than 100000" for 0. (transfer full) */
char *sb_repeats_words (gsize n);

/* Sentences on its numbers of the bit mask `measures`, each with a space behind it: which are none for a bench, what noise has to do with them; ""
 * when there is nothing to say. (transfer full) */
char *sb_plan_notes (const SbPlan *plan, guint measures);

/* "Bracken and Teasel": whose scatter is planned with; "" when there is none. (transfer full) */
char *sb_plan_sides_words (const SbAnalysis *analysis);
