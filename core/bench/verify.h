/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Holds a chart's or a report's proof against the logs at hand: are they the same, and do the same figures come out?
 * A pure function of (proof, files). Immutable once made. */
#pragma once

#include "proof.h"

typedef enum {
  SB_VERIFIED_SAME,
  SB_VERIFIED_CHANGED, /* a log of this name is there, with other content */
  SB_VERIFIED_MISSING,
} SbVerifiedState;

typedef struct {
  const SbProofLog *log; /* of the proof */
  SbVerifiedState state;
  char *path;       /* NULL: missing */
  char *sha256;     /* of what is at `path` */
  guint64 n_bytes;  /* likewise */
  gboolean renamed; /* found by its content under another name */
  char *other;      /* the file of the log's own name, which has other content and was not used; NULL: there is none */
} SbVerifiedLog;

typedef enum {
  SB_VERIFIED_TO_THE_BIT,
  SB_VERIFIED_AS_PRINTED, /* equal when rounded as tables are */
  SB_VERIFIED_DIFFERS,
  SB_VERIFIED_UNCHECKED, /* a log of its configuration is missing */
  SB_N_VERIFIED_MATCHES,
} SbVerifiedMatch;

typedef struct {
  SbProofFigure recorded, found; /* their verdicts are borrowed */
  SbVerifiedMatch match;
} SbVerifiedFigure;

/* A fact of a judgement; a side that does not have it says "nothing". */
typedef struct {
  char *about, *name;                   /* "Setting torque slope", "verdict" */
  char *recorded, *found;               /* with the digits that are printed */
  char *recorded_digits, *found_digits; /* with all */
  SbVerifiedMatch match;
} SbVerifiedFact;

/* Whether the picture, or the report as it is laid out, is the one that the choices give. */
typedef enum {
  SB_PICTURE_NONE,         /* the file has none */
  SB_PICTURE_NOT_COMPARED, /* `picture_what` says why */
  SB_PICTURE_SAME,
  SB_PICTURE_DIFFERS,
  SB_PICTURE_EDITED, /* nothing was made again, but the report's own list of checksums names files that were changed */
} SbVerifiedPicture;

typedef struct {
  SbProof *proof;
  GArray *logs;         /* SbVerifiedLog, in the proof's order */
  GArray *figures;      /* SbVerifiedFigure, in the proof's order */
  SbBench *bench;       /* the choices of the proof with the logs that were found */
  GArray *facts;        /* SbVerifiedFact, in the proof's order */
  SbAnalysis *analysis; /* of the same, each log by its name in the proof */
  GPtrArray *unread;    /* char *: names of logs that could not be read when the proof was made and are not at hand */
  GPtrArray *readable;  /* char *: of those that are at hand and can be read now: they are left out here too */
  GArray *found;        /* SbProofFigure; private */
  gsize n_same, n_changed, n_missing;                      /* logs */
  gsize n_to_the_bit, n_as_printed, n_differ, n_unchecked; /* figures */
  gsize n_facts[SB_N_VERIFIED_MATCHES];
  SbVerifiedPicture picture;
  char *picture_what; /* in words: a sentence or two; NULL: nothing to say */
} SbVerification;

/* `beside` is the folder of the file that carries the proof; `folder` (may be NULL) is looked through with all that it
 * holds. Takes over the proof. NULL with an error in SB_PROOF_ERROR when the choices in the proof make no bench, or
 * when cancelled. Reads all logs: call it off the main loop. `cancellable` may be NULL. (transfer full) */
SbVerification *
sb_verify (SbProof *proof, const char *beside, const char *folder, GCancellable *cancellable, GError **error);
void sb_verification_free (SbVerification *verification);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbVerification, sb_verification_free)

/* What came of drawing the picture again, which takes more than this library has; takes over `what`. Before words are
 * asked for. */
void sb_verification_set_picture (SbVerification *verification, SbVerifiedPicture picture, char *what);

/* Whether the picture can be drawn again: the logs are the same, and so is all that came of them. */
gboolean sb_verification_can_draw (const SbVerification *verification);

/* Whether all logs are the same, the proof is whole, every figure and judgement comes out as printed, and no picture
 * was found to differ. */
gboolean sb_verification_is_same (const SbVerification *verification);

/* verify_text.c: what was found, in sentences; a paragraph each, without line ends. */
typedef struct {
  char *made;    /* by which version, when it is another one, and whether the proof is whole */
  char *choices; /* configurations, repeats, and what was chosen other than usual */
  char *logs;
  char *figures;
  char *picture;      /* NULL: there is none */
  char *outcome;      /* the conclusion, and what a difference comes from */
  GPtrArray *details; /* char *: a log or a figure that is not the same, each with both values */
} SbVerificationWords;

SbVerificationWords *sb_verification_words (const SbVerification *verification);
void sb_verification_words_free (SbVerificationWords *words);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbVerificationWords, sb_verification_words_free)

/* All of it for a terminal. (transfer full) */
char *sb_verification_text (const SbVerification *verification);

/* verify_json.c: the same for scripts; docs/proof.md. (transfer full) */
char *sb_verification_json (const SbVerification *verification);
