/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a proof calls the logs: their paths without what they share and what only one computer has. */
#pragma once

#include "bench.h"

/* A folder that stands for the one that the logs share. */
#define SB_PROOF_SHARED "/logs"

/* Path (borrowed from the bench) -> name: relative to the folder that all logs share, or, when they lie far apart, the
 * file with its own folder alone. UTF-8; no two logs share a name. A bench made to check a proof
 * (found_at) has the names of that proof. (transfer full) */
GHashTable *sb_proof_names (const SbBench *bench);

/* The name of a log in the session of a proof, from the path that it got in the shared folder; NULL for a path that
 * leads out of it. Borrowed from `path`. */
const char *sb_proof_name_of (const char *path);

/* Whether a name is one that sb_proof_names() gives: no absolute one, none that leads out of its folder. */
gboolean sb_proof_name_is_safe (const char *name);
