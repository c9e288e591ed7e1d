/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options about single trials, which they name by the end of their log's path, FILE, or by that and a step, FILE@STEP.
 * Each returns NULL, or what is wrong with it in words. (transfer full) */
#pragma once

#include "bench.h"

/* FILE or FILE@STEP, with =REASON or without. */
char *sb_exclude_option_apply (SbBench *bench, const char *exclusion);

/* FILE=SECONDS or FILE@STEP=SECONDS, at the time of the log. */
char *sb_onset_option_apply (SbBench *bench, const char *onset);
