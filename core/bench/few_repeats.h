/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fills how far the curves of few repeats are from their mean while the logs are read. Inside of analysis_passes.c. */
#pragma once

#include "analysis.h"

/* The curves at hand, by configuration. (transfer full) */
GHashTable *sb_few_repeats_new (void);

/* An included trial of `configuration` was read; `trial` is NULL when it cannot be used. With the last one of the
 * configuration its trials' off_mean is filled, and the curves are given back. */
void sb_few_repeats_receive (GHashTable *few_repeats, SbConfigurationResult *configuration, SbTrialResult *result,
                             const SbTrial *trial);
