/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials put into one configuration that are no repeats of one test. */
#pragma once

#include "trial_facts.h"

/* "command size: 5 and 10 N·m; firmware: 1.2 and 1.3", of what the n trials state differently (fairness.h says what is
 * alike; a supply is within 2 %); what only some state is passed over, and a setting that is another in each of three
 * repeats or more, as a run number is. NULL where nothing is left. (transfer full) */
char *sb_unlike_repeats (SbTrialFacts *const *facts, gsize n);
