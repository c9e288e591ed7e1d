/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a comparison comes to over all its measures, for the head of its card. */
#pragma once

#include "analysis.h"
#include "judgement_card.h"

#define SB_NOT_COMPARED "not compared"

/* Measures with this verdict. */
guint sb_pair_count (const SbComparison *comparison, SbVerdict verdict);

/* Whether some measure differs. Else: open while one is undecided or none could be compared, and equal when all are
 * practically equal. */
SbJudgementMark sb_pair_mark (const SbComparison *comparison);

/* "3 measures differ, 1 is practically equal, 0 undecided", in a person's own words where there are some; "not
 * compared" when no measure could be. (transfer full) */
char *sb_pair_verdict_words (const SbBench *bench, const SbComparison *comparison);

/* Why no measure could be compared: each reason once, with the measures it is of, "Peak torque, Overshoot: needs two
 * trials on either side; there are 1 and 3"; empty when some measure could. (transfer full) */
GPtrArray *sb_pair_why_not_compared (const SbComparison *comparison);
