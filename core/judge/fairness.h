/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What differs between two sides besides the setting under study. */
#pragma once

#include "trial_facts.h"

/* The list for sb_comparison_new(): SbFairness, in a fixed order, empty when the sides are alike. (transfer full) */
GPtrArray *sb_fairness_list (SbTrialFacts *const *reference, gsize n_reference, SbTrialFacts *const *other,
                             gsize n_other);
