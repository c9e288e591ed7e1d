/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the file of a session is made of, for session.c, session_build.c and session_parse.c alone. */
#pragma once

#include "session.h"

/* Raised when a reader of the older format could no longer read the file. */
#define SB_SESSION_FORMAT 1

/* The session that lies in `folder`, without what a later version wrote. */
void sb_session_build (JsonBuilder *builder, const SbBench *bench, const SbAnalysis *analysis, const char *folder);
