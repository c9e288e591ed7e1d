/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The session file: a bench as JSON, logs by relative path with size and SHA-256 when known. Format:
 * docs/session-file.md. */
#pragma once

#include "analysis.h"

typedef enum {
  SB_SESSION_ERROR_READ,    /* not a session, or not JSON: names the line */
  SB_SESSION_ERROR_VERSION, /* written by a later version whose format this one cannot read */
  SB_SESSION_ERROR_WRITE,
} SbSessionError;

#define SB_SESSION_ERROR (sb_session_error_quark ())
GQuark sb_session_error_quark (void);

#define SB_SESSION_SUFFIX ".slewbench"

/* (transfer full) */
SbBench *sb_session_load (const char *path, GError **error);

/* Writes atomically and durably: the file is the old one or the new one, never half of either. `analysis` (may be NULL)
 * gives the checksums of the logs. */
gboolean sb_session_save (const SbBench *bench, const SbAnalysis *analysis, const char *path, GError **error);
