/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of what verify_text.c says. */
#pragma once

#include "verify.h"

gboolean sb_verify_is_of_this_version (const SbVerification *verification);

/* verify_outcome.c: the conclusion with what it comes from. (transfer full) */
char *sb_verify_outcome_text (const SbVerification *verification);

/* verify_details.c: sentences on what is not the same, char *: logs; figures that print otherwise, by measure; facts of
 * judgements. Those that differ in digits that no one prints are one line, the last. (transfer full) */
GPtrArray *sb_verify_details (const SbVerification *verification);

/* Whether it is a verdict, an effect or another fact in words, on either side; else it is a figure behind them. */
gboolean sb_verify_fact_is_in_words (const SbVerifiedFact *fact);

/* " (peak torque slope, overshoot)": the measures whose figures print otherwise; "" when there is none. (transfer
 * full) */
char *sb_verify_measures_that_differ (const SbVerification *verification);
