/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The session file: a bench as JSON, logs by relative path with size and SHA-256 when known. Format:
 * docs/session-file.md. */
#pragma once

#include "analysis.h"

#include <json-glib/json-glib.h>

typedef enum {
  SB_SESSION_ERROR_READ,    /* not a session, or not JSON: names the line */
  SB_SESSION_ERROR_VERSION, /* written by a later version whose format this one cannot read */
  SB_SESSION_ERROR_WRITE,
  SB_SESSION_ERROR_CHANGED, /* not written over another's changes */
} SbSessionError;

#define SB_SESSION_ERROR (sb_session_error_quark ())
GQuark sb_session_error_quark (void);

#define SB_SESSION_SUFFIX ".slewbench"

/* (transfer full) */
SbBench *sb_session_load (const char *path, GError **error);

/* Writes atomically and durably (durable_file.h): the file is the old one or the new one, never half of either.
 * `analysis` (may be NULL) gives the checksums of the logs. */
gboolean sb_session_save (const SbBench *bench, const SbAnalysis *analysis, const char *path, GError **error);

/* SHA-256 of the file at `path`; NULL when it cannot be read. (transfer full) */
char *sb_session_digest (const char *path);

/* The same, but not over a file whose digest is another than `expected` (NULL: over any). `digest` (may be NULL) is
 * that of what was written. */
gboolean sb_session_save_over (const SbBench *bench, const SbAnalysis *analysis, const char *path, const char *expected,
                               char **digest, GError **error);

/* The text of a session that lies in `folder`. (transfer full) */
char *sb_session_text (const SbBench *bench, const SbAnalysis *analysis, const char *folder);

/* Reads a session that lies in `folder`; what is wrong is told without a file's name. (transfer full) */
SbBench *sb_session_read (JsonNode *node, const char *folder, GError **error);
