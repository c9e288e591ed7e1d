/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgement_edits.h"

#include "bench_claims.h"
#include "verdict_words.h"

#include <math.h>
#include <string.h>

/* "state of Teasel (device): Peak torque slope at least 2.0 N·m/ms" */
static void
push (SbDocument *document, SbBench *edited, const char *verb, const SbClaim *claim)
{
  g_autofree char *owner = sb_bench_claim_owner (edited, claim);
  g_autofree char *what = sb_claim_text (claim, edited->units);
  g_autofree char *step = g_strdup_printf ("%s of %s: %s", verb, owner, what);
  sb_document_push (document, edited, step);
}

void
sb_edit_add_claim (SbDocument *document, const SbClaim *claim)
{
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_add_claim (edited, claim);
  push (document, edited, "state", claim);
}

void
sb_edit_set_claim (SbDocument *document, guint index, const SbClaim *claim)
{
  if (sb_claim_equal (sb_bench_claim (sb_document_bench (document), index), claim))
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_set_claim (edited, index, claim);
  push (document, edited, "state", claim);
}

void
sb_edit_remove_claim (SbDocument *document, guint index)
{
  const SbBench *bench = sb_document_bench (document);
  SbClaim *claim = sb_claim_copy (sb_bench_claim (bench, index));
  SbBench *edited = sb_bench_edit (bench);
  sb_bench_remove_claim (edited, index);
  push (document, edited, "no longer state", claim);
  sb_claim_free (claim);
}

/* NaN is the same as NaN here: both are missing. */
static gboolean
same_number (double a, double b)
{
  return (isnan (a) && isnan (b)) || fabs (a - b) <= 1e-12 * fabs (b);
}

static gboolean
same_margins (const SbBench *bench, const SbMarginChoices *margins)
{
  gboolean same = same_number (bench->margin_ratio, margins->ratio);
  for (int m = 0; m < SB_N_MEASURES; m++)
    same = same && same_number (bench->margin[m].ratio, margins->margin[m].ratio)
           && same_number (bench->margin[m].absolute, margins->margin[m].absolute);
  return same;
}

void
sb_edit_set_margins (SbDocument *document, const SbMarginChoices *margins)
{
  const SbBench *bench = sb_document_bench (document);
  gboolean same = same_margins (bench, margins), same_level = same_number (bench->verdict_level, margins->level);
  if (same && same_level)
    return;
  SbBench *edited = sb_bench_edit (bench);
  edited->margin_ratio = margins->ratio;
  edited->verdict_level = margins->level;
  memcpy (edited->margin, margins->margin, sizeof edited->margin);
  sb_document_push (document, edited,
                    same         ? "change the level of the verdicts"
                    : same_level ? "change what counts as equal"
                                 : "change what counts as equal and the level of the verdicts");
}

void
sb_edit_set_audit_choices (SbDocument *document, const SbAuditChoices *choices)
{
  const SbAuditChoices *old = &sb_document_bench (document)->audit;
  if (same_number (old->level, choices->level) && same_number (old->proportion_ratio, choices->proportion_ratio)
      && same_number (old->straight_ratio, choices->straight_ratio))
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  edited->audit = *choices;
  sb_document_push (document, edited, "change how settings are audited");
}

gboolean
sb_edit_set_words (SbDocument *document, const char *const *own)
{
  const char *const *usual = sb_verdict_words_usual ();
  const SbBench *bench = sb_document_bench (document);
  SbBench *edited = sb_bench_edit (bench);
  gboolean changed = FALSE;
  for (gsize i = 0; usual[i] != NULL; i++) {
    sb_bench_set_word (edited, usual[i], own[i], NULL);
    changed = changed || strcmp (sb_bench_word (edited, usual[i]), sb_bench_word (bench, usual[i])) != 0;
  }
  gboolean clash = sb_verdict_words_clash (edited) != NULL;
  if (changed && !clash)
    sb_document_push (document, edited, "change the words of the verdicts");
  else
    sb_bench_unref (edited);
  return !clash;
}

void
sb_edit_set_plan_ratio (SbDocument *document, double ratio)
{
  const SbBench *bench = sb_document_bench (document);
  if (fabs (bench->plan_ratio - ratio) < 1e-9)
    return;
  SbBench *edited = sb_bench_edit (bench);
  edited->plan = TRUE;
  edited->plan_ratio = ratio;
  g_autofree char *step = ratio > 0 ? g_strdup_printf ("plan repeats for a difference of %.4g %%", 100 * ratio)
                                    : g_strdup ("plan repeats for the margin");
  sb_document_push (document, edited, step);
}
