/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seeded drives with a setting whose workings are known, tested at several levels, and what the audit makes of them. */
#pragma once

#include "audit.h"
#include "make_trial.h"

#define AUDIT_REPEATS     5
#define AUDIT_MOST_LEVELS 5

/* What the setting does in truth. */
typedef enum {
  AUDIT_TRUTH_LIMITER,        /* the slope is in proportion to the level */
  AUDIT_TRUTH_HIDDEN_CEILING, /* likewise up to the drive's own slope, which lies above the second level or a higher */
  AUDIT_TRUTH_SHAPER,         /* dead time, two equal lags, or ringing go with the level; the slope limit stays */
  AUDIT_TRUTH_NONE,
  AUDIT_N_TRUTHS,
} AuditTruth;

/* On what. */
typedef enum {
  AUDIT_BENCH_USUAL,
  AUDIT_BENCH_ROUGH,   /* repeats scatter twice as much and more, in twice the noise */
  AUDIT_BENCH_RINGING, /* from here on the rig rings */
  AUDIT_BENCH_RINGING_COARSE,
  AUDIT_BENCH_RINGING_ROUGH,
  AUDIT_N_BENCHES,
} AuditBench;

gboolean audit_bench_rings (AuditBench bench);
const char *audit_bench_words (AuditBench bench);

/* What was said of it. */
typedef enum {
  AUDIT_SAID_LIMITS,
  AUDIT_SAID_CEILING,       /* limits, up to a ceiling; where the truth has one, from the right level on */
  AUDIT_SAID_WRONG_CEILING, /* from another level on */
  AUDIT_SAID_OPEN,          /* limits, but beyond some level it cannot tell; the truth has a ceiling */
  AUDIT_SAID_SHAPES,
  AUDIT_SAID_NONE,
  AUDIT_SAID_CANNOT_TELL,
  AUDIT_N_SAID,
} AuditSaid;

typedef struct {
  MadeTrials *made; /* of the case at hand */
  MadeNoise random;
  AuditBench bench;
  gboolean verbose; /* reasons of wrong verdicts on the standard output */
} AuditCases;

void audit_cases_init (AuditCases *cases, guint64 seed);
void audit_cases_clear (AuditCases *cases);

/* Another drive of this kind, tested and audited. */
AuditSaid audit_cases_draw (AuditCases *cases, AuditTruth truth);

AuditSaid audit_right (AuditTruth truth);
const char *audit_truth_words (AuditTruth truth);
