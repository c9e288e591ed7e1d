/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Proofs checked against the logs at hand. */
#pragma once

#include "proof_fixture.h"
#include "results.h"

/* Checks the proof in `text`, whose file would lie in `beside`. */
static inline const SbVerification *
verify (ProofFixture *fixture, const char *text, const char *beside, const char *folder)
{
  g_clear_pointer (&fixture->words, sb_verification_words_free);
  g_clear_pointer (&fixture->verification, sb_verification_free);
  parse (fixture, text);
  fixture->verification = sb_verify (g_steal_pointer (&fixture->proof), path_in (fixture->bench, beside),
                                     folder != NULL ? path_in (fixture->bench, folder) : NULL, NULL, &fixture->error);
  if (fixture->verification == NULL)
    fail_msg ("not checked: %s", fixture->error->message);
  fixture->words = sb_verification_words (fixture->verification);
  return fixture->verification;
}

static inline void
assert_words (const char *text, const char *words)
{
  if (text == NULL || strstr (text, words) == NULL)
    fail_msg ("'%s' is not in: %s", words, text != NULL ? text : "nothing");
}

/* What is told of the logs and the bench, as the report of `analysis` has it. */
static inline const char *
report_of (ProofFixture *fixture, SbAnalysis *analysis)
{
  return keep (fixture->bench, sb_results_json (analysis));
}

/* The fixture's bench is another one from now on. (transfer none) */
static inline SbBench *
edit_bench (ProofFixture *fixture)
{
  SbBench *edited = sb_bench_edit (fixture->bench->bench);
  sb_bench_unref (fixture->bench->bench);
  return fixture->bench->bench = edited;
}

static inline void
analyse_again (ProofFixture *fixture)
{
  fixture->bench->second = g_steal_pointer (&fixture->bench->analysis);
  fixture->bench->analysis = sb_analysis_run (fixture->bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
}
