/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a reader has to be told of channels that were not logged as such. */
#pragma once

#include "analysis.h"

/* How such channels of the included trials came about, each clause (of sb_trial_derived_words) once. (transfer
 * container: the clauses are the results') */
GPtrArray *sb_derived_channels (const SbConfigurationResult *configuration);

/* "The torque is ...." of such a clause. (transfer full) */
char *sb_derived_sentence (const char *clause);
