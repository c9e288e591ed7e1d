/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Benches with a proof, for the tests of proofs and of their checking. */
#pragma once

#include "bench_fixture.h"
#include "proof_file.h"
#include "proof_seal.h"
#include "verify.h"

typedef struct {
  BenchFixture *bench;
  SbProof *proof;
  SbVerification *verification;
  SbVerificationWords *words;
  JsonNode *node;
  GError *error;
  GByteArray *bytes;
} ProofFixture;

static inline int
proof_fixture_setup (void **state)
{
  ProofFixture *fixture = g_new0 (ProofFixture, 1);
  void *bench = NULL;
  int failed = bench_fixture_setup (&bench);
  fixture->bench = bench;
  fixture->bytes = g_byte_array_new ();
  *state = fixture;
  return failed;
}

static inline int
proof_fixture_teardown (void **state)
{
  ProofFixture *fixture = *state;
  void *bench = fixture->bench;
  sb_proof_free (fixture->proof);
  sb_verification_words_free (fixture->words);
  sb_verification_free (fixture->verification);
  g_clear_pointer (&fixture->node, json_node_unref);
  g_clear_error (&fixture->error);
  g_byte_array_unref (fixture->bytes);
  g_free (fixture);
  return bench_fixture_teardown (&bench);
}

#define proof_test(name) cmocka_unit_test_setup_teardown (name, proof_fixture_setup, proof_fixture_teardown)

/* Two configurations of three logs in folders of their own; no two logs are alike. */
static inline void
make_logs (ProofFixture *fixture, const char *above)
{
  for (int c = 0; c < 2; c++)
    for (int t = 0; t < 3; t++) {
      StepLog step = STEP_LOG;
      step.ramp_ms = c == 0 ? 20 + t : 10 + 0.5 * t;
      g_autofree char *name = g_strdup_printf ("%s/%s/run-%d.csv", above, c == 0 ? "slow" : "fast", t + 1);
      write_step (fixture->bench, name, step);
    }
}

static inline void
analyse_logs (ProofFixture *fixture, const char *above)
{
  BenchFixture *bench = fixture->bench;
  for (int c = 0; c < 2; c++) {
    const char *paths[3];
    for (int t = 0; t < 3; t++) {
      g_autofree char *name = g_strdup_printf ("%s/%s/run-%d.csv", above, c == 0 ? "slow" : "fast", t + 1);
      paths[t] = path_in (bench, name);
    }
    sb_bench_add_configuration (bench->bench, c == 0 ? "Slow" : "Fast", paths, 3);
  }
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  assert_non_null (bench->analysis);
}

/* The text of the proof of that bench. */
static inline const char *
make_proof (ProofFixture *fixture)
{
  make_logs (fixture, "logs");
  analyse_logs (fixture, "logs");
  return keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
}

static inline const SbProof *
parse (ProofFixture *fixture, const char *text)
{
  sb_proof_free (fixture->proof);
  fixture->proof = sb_proof_parse (text, strlen (text), &fixture->error);
  if (fixture->proof == NULL)
    fail_msg ("no proof: %s", fixture->error->message);
  return fixture->proof;
}

/* `text` with the first `old` in it replaced. */
static inline const char *
edit (ProofFixture *fixture, const char *text, const char *old, const char *with)
{
  const char *at = strstr (text, old);
  assert_non_null (at);
  return keep (fixture->bench, g_strdup_printf ("%.*s%s%s", (int) (at - text), text, with, at + strlen (old)));
}

/* The same sealed anew, as somebody would who knows how. */
static inline const char *
seal_anew (ProofFixture *fixture, const char *text)
{
  g_clear_pointer (&fixture->node, json_node_unref);
  fixture->node = json_from_string (text, NULL);
  json_object_remove_member (json_node_get_object (fixture->node), "seal");
  sb_proof_seal (fixture->node);
  return keep (fixture->bench, sb_proof_line (fixture->node));
}
