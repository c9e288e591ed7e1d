/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reference and the other of a bench held against each other. Inside of analysis.c. */
#pragma once

#include "analysis.h"

/* FALSE unless two different configurations are to be compared. */
gboolean sb_pair_chosen (const SbBench *bench);

/* Where the trials of the two are kept while logs come in: SbConfigurationResult -> GPtrArray of SbTrial; empty when
 * there is no pair. (transfer full) */
GHashTable *sb_pair_trials_new (const SbAnalysis *analysis);

/* Keeps a trial of one of the two, up to the few that its scatter over time is read from: a batch run stays small. */
void sb_pair_keep (GHashTable *trials, const SbConfigurationResult *configuration, SbTrial *trial);
void sb_pair_forget (GHashTable *trials, const SbConfigurationResult *configuration);

/* Fill SbAnalysis.difference and .comparison where they can be had. */
void sb_pair_compare_curves (SbAnalysis *analysis, GHashTable *trials);
void sb_pair_compare (SbAnalysis *analysis);
