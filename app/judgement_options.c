/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgement_options.h"

#include "bench_claims.h"

#include <string.h>

/* Configurations that are named after levels come of cutting logs into steps. */
static gboolean
may_come_of_a_cut (const SbBench *bench, const SbClaim *claim)
{
  return bench->steps == SB_STEPS_ALL && claim->device != NULL && strstr (claim->device, "→") != NULL;
}

static char *
apply_claim (const char *text, SbBench *bench, GPtrArray *waiting)
{
  g_autoptr (GError) error = NULL;
  SbClaim *claim = sb_claim_parse (bench, text, &error);
  if (claim == NULL)
    return g_strdup_printf ("--claim: %s.", error->message);
  if (waiting != NULL && may_come_of_a_cut (bench, claim))
    g_ptr_array_add (waiting, g_strdup (text));
  else
    sb_bench_add_claim (bench, claim);
  sb_claim_free (claim);
  return NULL;
}

char *
sb_judgement_options_apply (char *const *audits, char *const *claims, SbBench *bench, GPtrArray *waiting)
{
  gsize n_audits = 0;
  for (; audits != NULL && audits[n_audits] != NULL; n_audits++)
    if (audits[n_audits][0] == '\0' || !g_utf8_validate (audits[n_audits], -1, NULL))
      return g_strdup ("--audit takes the name of a setting.");
  if (n_audits > 0)
    sb_bench_set_audits (bench, (const char *const *) audits, n_audits);
  char *wrong = NULL;
  for (gsize i = 0; wrong == NULL && claims != NULL && claims[i] != NULL; i++)
    wrong = apply_claim (claims[i], bench, waiting);
  return wrong;
}

SbExitStatus
sb_judgement_options_say_unmet (const SbAnalysis *analysis)
{
  SbExitStatus status = SB_EXIT_DONE;
  for (guint i = 0; i < analysis->claims->len; i++) {
    const SbClaimResult *result = g_ptr_array_index (analysis->claims, i);
    if (result->sides->len > 0)
      continue;
    g_autofree char *owner = sb_bench_claim_owner (analysis->bench, result->claim);
    g_autofree char *text = sb_claim_text (result->claim);
    g_printerr ("slewbench: '%s' cannot be checked: no usable trial is of %s.\n", text, owner);
    status = SB_EXIT_LEFT_OUT;
  }
  return status;
}
