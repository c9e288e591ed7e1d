/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial.h"

/* How a channel that was not logged as such came about, as a clause that begins with a small letter: "the velocity is
 * not logged but derived from the angle". NULL when it was logged. */
char *sb_trial_derived_words (const SbTrial *trial, SbChannel channel);
