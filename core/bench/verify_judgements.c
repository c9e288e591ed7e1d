/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_logs.h"

#include <math.h>
#include <string.h>

static SbVerifiedMatch
match_of (const SbProofFact *recorded, const SbProofFact *found)
{
  if (found == NULL || (recorded->text == NULL) != (found->text == NULL))
    return SB_VERIFIED_DIFFERS;
  if (recorded->text != NULL)
    return strcmp (recorded->text, found->text) == 0 ? SB_VERIFIED_TO_THE_BIT : SB_VERIFIED_DIFFERS;
  double a = recorded->number, b = found->number;
  if ((isnan (a) && isnan (b)) || !(a < b || a > b))
    return isnan (a) == isnan (b) ? SB_VERIFIED_TO_THE_BIT : SB_VERIFIED_DIFFERS;
  g_autofree char *one = sb_proof_fact_text (recorded), *other = sb_proof_fact_text (found);
  return strcmp (one, other) == 0 ? SB_VERIFIED_AS_PRINTED : SB_VERIFIED_DIFFERS;
}

static char *
key_of (const SbProofFact *fact)
{
  return g_strconcat (fact->about, "\n", fact->name, NULL);
}

static void
add (SbVerification *verification, const SbProofFact *recorded, const SbProofFact *found, SbVerifiedMatch match)
{
  const SbProofFact *named = recorded != NULL ? recorded : found;
  SbVerifiedFact fact = {
    .about = g_strdup (named->about),
    .name = g_strdup (named->name),
    .recorded = recorded != NULL ? sb_proof_fact_text (recorded) : g_strdup ("nothing"),
    .found = found != NULL ? sb_proof_fact_text (found) : g_strdup ("nothing"),
    .recorded_digits = recorded != NULL ? sb_proof_fact_digits (recorded) : g_strdup ("nothing"),
    .found_digits = found != NULL ? sb_proof_fact_digits (found) : g_strdup ("nothing"),
    .match = match,
  };
  g_array_append_val (verification->facts, fact);
  verification->n_facts[match]++;
}

static void
fact_clear (gpointer data)
{
  SbVerifiedFact *fact = data;
  g_free (fact->about);
  g_free (fact->name);
  g_free (fact->recorded);
  g_free (fact->found);
  g_free (fact->recorded_digits);
  g_free (fact->found_digits);
}

/* Facts are found by their names. With logs missing none can be held against what comes out. */
void
sb_verify_judgements (SbVerification *verification)
{
  verification->facts = g_array_new (FALSE, FALSE, sizeof (SbVerifiedFact));
  g_array_set_clear_func (verification->facts, fact_clear);
  if (verification->proof->judgements == NULL)
    return;
  g_autoptr (JsonNode) node = sb_proof_judgements_node (verification->analysis);
  g_autoptr (GArray) recorded = sb_proof_facts (verification->proof->judgements), found = sb_proof_facts (node);
  g_autoptr (GHashTable) by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < found->len; i++)
    g_hash_table_insert (by_key, key_of (&g_array_index (found, SbProofFact, i)),
                         &g_array_index (found, SbProofFact, i));
  for (guint i = 0; i < recorded->len; i++) {
    const SbProofFact *fact = &g_array_index (recorded, SbProofFact, i);
    g_autofree char *key = key_of (fact);
    const SbProofFact *same = g_hash_table_lookup (by_key, key);
    add (verification, fact, same, verification->n_missing > 0 ? SB_VERIFIED_UNCHECKED : match_of (fact, same));
    g_hash_table_remove (by_key, key);
  }
  for (guint i = 0; verification->n_missing == 0 && i < found->len; i++) {
    const SbProofFact *fact = &g_array_index (found, SbProofFact, i);
    g_autofree char *key = key_of (fact);
    if (g_hash_table_remove (by_key, key))
      add (verification, NULL, fact, SB_VERIFIED_DIFFERS);
  }
}
