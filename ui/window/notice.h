/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person should know about the results: logs that could not be used, rows left out, assumptions, doubts,
 * unfairness. Built from the results; no widget here. */
#pragma once

#include "analysis.h"
#include "news.h"

/* By weight: errors, warnings, remarks. */
typedef enum {
  SB_NOTICE_FAILURE,  /* a log could not be used */
  SB_NOTICE_REMARK,   /* a log is not what it was, or a copy of another */
  SB_NOTICE_FAULT,    /* rows of a log were left out */
  SB_NOTICE_FLAW,     /* a log has faults that cost no row */
  SB_NOTICE_FAIRNESS, /* the two sides differ in more than the setting under study */
  SB_NOTICE_NEWS,     /* a log came by itself, or was read again */
  SB_NOTICE_DOUBT,    /* a measure's value has a reason for doubt */
  SB_NOTICE_NOTE,     /* something had to be assumed about a trial */
  SB_N_NOTICES,
} SbNoticeKind;

typedef struct SbNotice SbNotice;
struct SbNotice {
  SbNoticeKind kind;
  char *place;   /* the configuration of a log: every folder may have a "run-05.csv"; NULL where it is the subject */
  char *subject; /* "run-05.csv", "Slope 0.3" */
  char *text;
  int configuration; /* where to go: -1 for none */
  int trial;         /* likewise */
  int measure;       /* SbMeasureId, likewise */
  gboolean is_lost;  /* the log is to be located */
  guint rank;        /* within its kind, before anything else */
  guint n_folded;    /* others of its kind that are folded away behind it; 0: none */
  guint n_alike;     /* of the first of a kind that can be folded: how many there are; else 0 */
  char *topic;       /* of one that sums up others: what they have in common; else NULL */
  GPtrArray *parts;  /* SbNotice: these others; else NULL */
  gboolean is_part;
};

void sb_notice_free (SbNotice *notice);

const char *sb_notice_kind_words (SbNoticeKind kind); /* "Not usable", "Doubt" */

/* SbNotice, the gravest kind first. `news` may be NULL. Doubts on one topic, of several measures or configurations, are
 * parts of one notice; the topics that most figures are doubted for come first. (transfer full) */
GPtrArray *sb_notices_new (const SbAnalysis *analysis, const SbNews *news);

/* Those that are to be shown, with their parts behind them where their topic is in the set `open`: of a kind of which
 * there are more than two, the first alone, unless the kind's bit (1u << SbNoticeKind) is in `unfolded`. What calls for
 * an act stays: logs that are not usable, new, or to be located. Notes in each what is folded. (transfer container) */
GPtrArray *sb_notices_fold (const GPtrArray *notices, guint unfolded, GHashTable *open);
