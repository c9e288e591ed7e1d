/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verdicts in a person's own words, of another language or of a journal: "equivalent" for "practically equal". Tables,
 * charts, report and window show them; the JSON keeps the usual ones, which others' programs read. */
#pragma once

#include "bench.h"

#define SB_VERDICT_WORDS_LONGEST 60 /* characters */

/* The usual words of every verdict, each once, NULL at the end: "differs", "cannot tell", "reached". */
const char *const *sb_verdict_words_usual (void);
gsize sb_n_verdict_words (void);

/* What is shown for the usual word: the person's own, or the same. Borrowed from the bench, or `usual` itself. */
const char *sb_bench_word (const SbBench *bench, const char *usual);

/* The verdict on a stated figure, of several configurations with how many (sb_claim_result_words). (transfer full) */
char *sb_bench_claim_words (const SbBench *bench, const SbClaimResult *result);

/* Why a side of a stated figure has its verdict, with the person's own word for that. (transfer full) */
char *sb_bench_claim_reason (const SbBench *bench, const SbClaimSide *side);

/* Sets the own word, with spaces around it taken off; "" or the usual one: none. FALSE with the error set
 * (SB_SESSION_ERROR_READ, in words that fit behind a name and a colon) when `usual` is no verdict's, or `own` is too
 * long or has control characters; then nothing is changed. */
gboolean sb_bench_set_word (SbBench *edited, const char *usual, const char *own, GError **error);

/* A word that two verdicts are shown by; NULL: each has its own. Borrowed. */
const char *sb_verdict_words_clash (const SbBench *bench);

/* "own" for "usual", of each that is set, in the order of the usual ones: a sentence for the methods; "" when none is.
 * (transfer full) */
char *sb_verdict_words_methods (const SbBench *bench);
