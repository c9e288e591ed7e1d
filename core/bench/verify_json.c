/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_members.h"
#include "verify.h"

static const char *const state_words[]
    = { [SB_VERIFIED_SAME] = "same", [SB_VERIFIED_CHANGED] = "changed", [SB_VERIFIED_MISSING] = "missing" };
static const char *const match_words[] = {
  [SB_VERIFIED_TO_THE_BIT] = "to the last bit",
  [SB_VERIFIED_AS_PRINTED] = "as printed",
  [SB_VERIFIED_DIFFERS] = "differs",
  [SB_VERIFIED_UNCHECKED] = "not checked",
};
static const char *const picture_words[] = {
  [SB_PICTURE_NONE] = "none",      [SB_PICTURE_NOT_COMPARED] = "not compared",
  [SB_PICTURE_SAME] = "same",      [SB_PICTURE_DIFFERS] = "differs",
  [SB_PICTURE_EDITED] = "differs",
};

static void
add_log (JsonBuilder *builder, const SbVerifiedLog *log)
{
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "file", log->log->file);
  sb_json_add_string (builder, "state", state_words[log->state]);
  sb_json_add_integer (builder, "bytes", (gint64) log->log->n_bytes);
  sb_json_add_string (builder, "sha256", log->log->sha256);
  if (log->path != NULL) {
    sb_json_add_string (builder, "found", log->path);
    sb_json_add_integer (builder, "found_bytes", (gint64) log->n_bytes);
    sb_json_add_string (builder, "found_sha256", log->sha256);
  }
  json_builder_end_object (builder);
}

static void
add_values (JsonBuilder *builder, const char *name, const SbProofFigure *figure)
{
  sb_json_begin (builder, name);
  if (figure->present) {
    static const char *const names[2][SB_PROOF_VALUES]
        = { { "mean", "sd", "n", "" }, { "difference", "low", "high", "p_holm" } };
    for (gsize v = 0; v < SB_PROOF_VALUES; v++)
      if (names[figure->configuration < 0][v][0] != '\0')
        sb_json_add_number (builder, names[figure->configuration < 0][v], figure->value[v]);
    if (figure->verdict != NULL)
      sb_json_add_string (builder, "verdict", figure->verdict);
  } else {
    sb_json_add_boolean (builder, "absent", TRUE);
  }
  json_builder_end_object (builder);
}

static void
add_figure (JsonBuilder *builder, const SbVerification *verification, const SbVerifiedFigure *figure)
{
  int c = figure->recorded.configuration;
  json_builder_begin_object (builder);
  if (c >= 0)
    sb_json_add_string (builder, "configuration", g_ptr_array_index (verification->proof->names, (guint) c));
  else
    sb_json_add_boolean (builder, "comparison", TRUE);
  sb_json_add_string (builder, "measure", sb_measure_info (figure->recorded.id)->key);
  sb_json_add_string (builder, "match", match_words[figure->match]);
  add_values (builder, "recorded", &figure->recorded);
  if (figure->match != SB_VERIFIED_UNCHECKED)
    add_values (builder, "found", &figure->found);
  json_builder_end_object (builder);
}

static void
add_fact (JsonBuilder *builder, const SbVerifiedFact *fact)
{
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "about", fact->about);
  sb_json_add_string (builder, "fact", fact->name);
  sb_json_add_string (builder, "match", match_words[fact->match]);
  sb_json_add_string (builder, "recorded", fact->recorded_digits);
  if (fact->match != SB_VERIFIED_UNCHECKED)
    sb_json_add_string (builder, "found", fact->found_digits);
  json_builder_end_object (builder);
}

char *
sb_verification_json (const SbVerification *verification)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (SbVerificationWords) words = sb_verification_words (verification);
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "slewbench", SB_VERSION);
  sb_json_add_string (builder, "made_by", verification->proof->version);
  sb_json_add_boolean (builder, "same", sb_verification_is_same (verification));
  sb_json_add_boolean (builder, "proof_is_whole", verification->proof->is_whole);
  sb_json_add_string (builder, "choices", words->choices);
  sb_json_add_string (builder, "outcome", words->outcome);
  sb_json_add_string (builder, "picture", picture_words[verification->picture]);
  if (words->picture != NULL)
    sb_json_add_string (builder, "picture_words", words->picture);
  sb_json_begin_list (builder, "logs");
  for (guint i = 0; i < verification->logs->len; i++)
    add_log (builder, &g_array_index (verification->logs, SbVerifiedLog, i));
  json_builder_end_array (builder);
  sb_json_begin_list (builder, "figures");
  for (guint i = 0; i < verification->figures->len; i++)
    add_figure (builder, verification, &g_array_index (verification->figures, SbVerifiedFigure, i));
  json_builder_end_array (builder);
  sb_json_begin_list (builder, "judgements");
  for (guint i = 0; i < verification->facts->len; i++)
    add_fact (builder, &g_array_index (verification->facts, SbVerifiedFact, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return sb_json_text (builder);
}
