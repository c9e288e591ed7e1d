/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "bench.h"

/* `text` (taken) with its numbers in plain form (sb_plain_sentence), unless a name of the bench holds one that would be
 * written otherwise: names stay as the person gave them. (transfer full) */
char *sb_bench_plain_text (const SbBench *bench, char *text);
