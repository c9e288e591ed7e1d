/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a proof records of the judgements: audited settings, stated figures, drive models, planned repeats. In JSON they
 * have the form of docs/results-json.md without its sentences; to be held against each other they are a flat list. */
#pragma once

#include "analysis.h"

#include <json-glib/json-glib.h>

/* One fact of a judgement. */
typedef struct {
  char *about;   /* "Setting torque slope of Teasel" */
  char *name;    /* "verdict", "peak torque slope, change" */
  char *text;    /* NULL: a number */
  double number; /* SI; NaN: not there */
} SbProofFact;

/* The member "judgements" of a proof. (transfer full) */
JsonNode *sb_proof_judgements_node (const SbAnalysis *analysis);

/* Its facts, in its order; of a node of another form, those that can be read. (transfer full) */
GArray *sb_proof_facts (JsonNode *node);

/* The fact as text, with the digits that judgements print: of p values thousandths, of drive models six, else five.
 * (transfer full) */
char *sb_proof_fact_text (const SbProofFact *fact);

/* The same with all digits. (transfer full) */
char *sb_proof_fact_digits (const SbProofFact *fact);
