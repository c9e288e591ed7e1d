/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the logs of a session are. */
#pragma once

#include "bench.h"

/* The folder that holds all its logs, when that is not the user's home or one above it; after it each folder with logs
 * of it, in the order of the bench and no more than a few. char *; empty without logs. (transfer full) */
GPtrArray *sb_session_folders (const SbBench *bench);
