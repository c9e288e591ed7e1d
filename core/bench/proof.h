/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a chart or a report carries inside so that anybody can check it: the choices as a session, name, size and
 * SHA-256 of each log, the figures that came of them, the program's version, and a seal over all of it. Names of logs
 * are relative to the folder that they share; there is no time and no path of a computer in it. Same analysis, same
 * bytes. The form is that of docs/proof.md. proof_file.h takes it out of files. */
#pragma once

#include "proof_figures.h"
#include "proof_judgements.h"

typedef enum {
  SB_PROOF_ERROR_NONE,    /* the file carries no proof */
  SB_PROOF_ERROR_DAMAGED, /* there is one, but it cannot be read */
  SB_PROOF_ERROR_VERSION, /* of a later form than this version reads */
  SB_PROOF_ERROR_READ,    /* the file cannot be read */
} SbProofError;

#define SB_PROOF_ERROR (sb_proof_error_quark ())
GQuark sb_proof_error_quark (void);

/* What the picture shows beside the choices of the bench. */
typedef struct {
  const char *title;    /* in place of the bench's, which may be older; NULL: the bench's */
  const SbPaper *paper; /* likewise */
  int evidence;         /* SbMeasureId whose evidence is marked; -1: none */
  const char *report;   /* of a report: "page", "a4", "letter"; NULL: a chart, or no picture */
} SbProofPicture;

/* One line of JSON in plain ASCII without '<', '>' and '&', so that no format that carries it has to encode it.
 * `picture` may be NULL. (transfer full) */
char *sb_proof_text (const SbAnalysis *analysis, const SbProofPicture *picture);

/* The same as a node, for a member of other JSON. (transfer full) */
JsonNode *sb_proof_node (const SbAnalysis *analysis, const SbProofPicture *picture);

/* The session inside alone, its logs by their `names` (proof_names.h) in `folder` beside it. (transfer full) */
char *sb_proof_session_text (const SbAnalysis *analysis, GHashTable *names, const char *folder);

typedef struct {
  char *file; /* relative, no ".." in it, "/" between folders */
  guint64 n_bytes;
  char *sha256;
} SbProofLog;

/* A proof that was read. Immutable. */
typedef struct {
  char *version;     /* of the program that wrote it */
  gboolean is_whole; /* the seal fits: what was written is what is read */
  char *evidence;    /* key of the measure marked in the picture; NULL: none */
  char *report;      /* how a report is laid out: "page", "a4", "letter"; NULL: none */
  JsonNode *session;
  GPtrArray *logs;      /* SbProofLog; each file once */
  GArray *figures;      /* SbProofFigure */
  GPtrArray *names;     /* char *, of the configurations */
  JsonNode *judgements; /* proof_judgements.h; NULL: of a version that did not record them */
  gsize n_unknown;      /* figures of measures that this version does not have */
} SbProof;

/* From the text of a proof, or of JSON with one as its member "proof"; a NUL follows the n_bytes. (transfer full) */
SbProof *sb_proof_parse (const char *text, gsize n_bytes, GError **error);
void sb_proof_free (SbProof *proof);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbProof, sb_proof_free)

/* The bench of the proof, each log at the path that `paths` (file -> path) has for it; one without has a path where
 * there is no file. (transfer full) */
SbBench *sb_proof_bench (const SbProof *proof, GHashTable *paths, GError **error);

/* The same for checking: each log keeps its name and is only read where it was found, so that what is told of it does
 * not hang on where that is, and one file can serve for two logs of the same content. Not to be saved. */
SbBench *sb_proof_bench_by_name (const SbProof *proof, GHashTable *paths, GError **error);

/* Adds (char * -> NULL, owned by the table) the names of logs that the session has and the list has not: they could not
 * be read when the proof was made. `by_name` is of sb_proof_bench_by_name(). */
void sb_proof_unread_names (const SbProof *proof, const SbBench *by_name, GHashTable *names);
