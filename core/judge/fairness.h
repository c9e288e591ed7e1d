/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What differs between two sides besides the setting under study. */
#pragma once

#include "comparison.h"
#include "trial_facts.h"

/* The list for sb_comparison_new(): SbFairness, in a fixed order, empty when the sides are alike. (transfer full)
 *
 * Rotation range, sample rate, command size, inertia and length of the active window count as alike within 1 %; the
 * step's direction, the source of its onset, device and firmware by their words.
 * A side whose trials disagree among themselves reads "90 and 540 deg"; what some trials state and others do not is
 * listed too. So is a supply ("supply voltage"). Settings that filter (friction, damping, smoothing, ...) are listed
 * when they differ or are not at zero; any other setting when one side does not state it or its trials disagree on it,
 * else only when several differ at once, since a single one is taken to be the setting under study. Last comes the
 * number of repeats.
 *
 * First of all stands, alone with `same`, that each repeat of either side is a repeat of the other (the same SHA-256,
 * read by the same layout, from the same onset to the same end). */
GPtrArray *
sb_fairness_list (SbTrialFacts *const *reference, gsize n_reference, SbTrialFacts *const *other, gsize n_other);

/* "Not alike", or "The same" when both sides are the same recordings: what stands before the next. */
const char *sb_fairness_heading (const SbFairness *fairness);

/* "rotation range: 540 deg against 900 deg". (transfer full) */
char *sb_fairness_text (const SbFairness *fairness);

/* To such a list, the measures that drift over the repeats of either side, as bits 1u << SbMeasureId; nothing when none
 * does. */
void sb_fairness_add_drifts (GPtrArray *list, const guint drifting[2]);
