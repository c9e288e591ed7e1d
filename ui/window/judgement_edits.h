/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person wants judged, and by what: stated figures, margins and level of the pair's verdicts, the difference
 * that repeats are planned for, each change one named step of the history. */
#pragma once

#include "claim.h"
#include "document.h"

void sb_edit_add_claim (SbDocument *document, const SbClaim *claim);
void sb_edit_set_claim (SbDocument *document, guint index, const SbClaim *claim);
void sb_edit_remove_claim (SbDocument *document, guint index);

typedef struct {
  double ratio;                   /* for all measures, of the reference mean */
  SbMargin margin[SB_N_MEASURES]; /* of single ones; both NaN: as for all */
  double level;                   /* of the verdicts on the pair */
} SbMarginChoices;

void sb_edit_set_margins (SbDocument *document, const SbMarginChoices *margins); /* as one step */

void sb_edit_set_audit_choices (SbDocument *document, const SbAuditChoices *choices);

/* Verdicts in these words, one for each of sb_verdict_words_usual(); "": the usual one. FALSE, and nothing
 * changed: two verdicts would be shown alike. */
gboolean sb_edit_set_words (SbDocument *document, const char *const *own);

/* The share of the reference mean that repeats are planned for; 0: the margin of each measure. */
void sb_edit_set_plan_ratio (SbDocument *document, double ratio);
