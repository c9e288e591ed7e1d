/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes the proof out of the files that carry one: PNG, SVG, PDF, a report's page or JSON. Which kind a file is, its
 * first bytes say. Anybody may have written it: sizes are bounded, and nothing is followed that the file names. */
#pragma once

#include "proof.h"

/* How the kinds of files carry it; the writers use the same words. */
#define SB_PROOF_PNG_KEYWORD "Slewbench proof"
#define SB_PROOF_ID          "slewbench-proof"
#define SB_PROOF_PAGE_TAG    "<script type=\"application/json\" id=\"" SB_PROOF_ID "\">"

/* Whether a file of this name may carry one: .png, .svg, .pdf, .json, .html. */
gboolean sb_proof_is_carrier_name (const char *name);

/* Errors in SB_PROOF_ERROR name the file. (transfer full) */
SbProof *sb_proof_read_file (const char *path, GError **error);

/* The same of bytes in memory, which a NUL follows; errors do not name a file. (transfer full) */
SbProof *sb_proof_read_bytes (const char *bytes, gsize n_bytes, GError **error);
