/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Is a stated figure reached? The interval of the mean against the figure, with what the test could tell at all.
 * Definitions: 'Claim check' of docs/methods.md. */
#pragma once

#include "measure_table.h"
#include "trial_facts.h"
#include "units.h"

typedef enum {
  SB_CLAIM_AT_LEAST,
  SB_CLAIM_AT_MOST,
  SB_CLAIM_ABOUT, /* within ± tolerance */
  SB_N_CLAIM_RELATIONS,
} SbClaimRelation;

const char *sb_claim_relation_words (SbClaimRelation relation); /* "at least", "at most", "about" */

/* A stated figure; a choice of the tester. Immutable, shared by its array. */
typedef struct {
  int configuration; /* index in the bench that it is of; -1: of a device, or of all */
  char *device;      /* GRefString; of all configurations of this device; NULL: of all configurations of the bench */
  SbMeasureId measure;
  SbClaimRelation relation;
  double value, tolerance; /* SI; tolerance of SB_CLAIM_ABOUT only, else 0 */
} SbClaim;

SbClaim *sb_claim_copy (const SbClaim *claim);
void sb_claim_free (gpointer claim);
gboolean sb_claim_equal (const SbClaim *a, const SbClaim *b);

/* "Peak torque slope at least 2.0 N·m/ms", in these units. (transfer full) */
char *sb_claim_text (const SbClaim *claim, SbUnits units);

typedef enum {
  SB_CLAIM_CANNOT_TELL,
  SB_CLAIM_REACHED,
  SB_CLAIM_NOT_REACHED,
  SB_N_CLAIM_VERDICTS,
} SbClaimVerdict;

const char *sb_claim_verdict_words (SbClaimVerdict verdict); /* "cannot tell", "reached", "not reached" */

/* A configuration that the claim is of; borrowed for the call. `summary` is of the n trials. */
typedef struct {
  const char *name;
  const SbSummary *summary;
  SbMeasures *const *measures;
  SbTrialFacts *const *facts;
  gsize n;
  guint drifting; /* measures, as bits 1u << SbMeasureId, that drift from the first repeat to the last */
} SbClaimInput;

/* The claim against one configuration. SI; NaN where not known. */
typedef struct {
  char *name;
  SbClaimVerdict verdict;
  gsize n;
  double mean, sd;
  double interval[2];   /* of the mean: 95 %, of m configurations together when the claim is of m */
  double bias;          /* how far noise is expected to have raised the figure; 0 mostly, negative: lowered */
  double by_late_onset; /* how much more it may be (negative: less) wherever the command jumped in the sample interval
                         * before the onset; 0 where it does not count from a jump */
  double resolution;    /* how finely the test tells one repeat's figure: sample interval, noise floor */
  double crests_apart;  /* how far apart the repeats' figures lie of which noise decides at which crest they are read; 0
                         * where all are read at one */
  gsize n_cut_short;    /* repeats in which it would be more in a longer log */
  gsize n_cut_off;      /* repeats in which it may be more with a sensor of a larger range (SB_DOUBT_CUT_OFF) */
  double by_steps;      /* half width of what the steps that it is logged in leave unknown, in the interval; 0 mostly */
  gboolean is_unit_doubted; /* other signals speak against its unit (SB_DOUBT_UNIT) */
  double steepest_nm_per_s; /* of a slope: steepest that this log could show, 0.8 ΔT/(4Δ); NaN else */
  gsize n_needed;   /* repeats that would settle it in 80 of 100 cases with this mean and scatter; 0: not known, or none
                       would */
  gboolean doubted; /* the figure has doubts, besides a bias that cannot turn the verdict */
  char *reason;     /* a sentence with the figures */
  gsize verdict_at; /* where the verdict's words begin in it; 0: it has none */
} SbClaimSide;

typedef struct {
  SbClaim *claim;
  SbClaimVerdict verdict; /* reached: by one side or more; not reached: by none for certain */
  GPtrArray *sides;       /* SbClaimSide; empty when no configuration with usable trials is meant */
  int decisive;           /* side that reached it, or came nearest; -1 without sides */
  gatomicrefcount ref_count;
} SbClaimResult;

/* `units` are those of the sentences alone. (transfer full) */
SbClaimResult *sb_claim_result_new (const SbClaim *claim, const SbClaimInput *input, gsize n_input, SbUnits units);
SbClaimResult *sb_claim_result_ref (SbClaimResult *result);
void sb_claim_result_unref (SbClaimResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbClaimResult, sb_claim_result_unref)

/* "reached", of several sides "reached by 1 of 3", "not reached by any of 3", "not reached by 2 of 3, cannot tell for
 * 1", "cannot tell". `words` are those the verdicts are shown by; where they are not the usual ones "missed (0 / 3)",
 * how many reach it, and "missed: 2; open: 1". (transfer full) */
char *sb_claim_result_words (const SbClaimResult *result, const char *const words[SB_N_CLAIM_VERDICTS]);

const SbClaimSide *sb_claim_result_side (const SbClaimResult *result, guint index);
