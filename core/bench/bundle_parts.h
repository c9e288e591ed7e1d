/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names within a bundle, for bundle_write.c and bundle_read.c. */
#pragma once

#include "bundle.h"
#include "session.h"

#define SB_BUNDLE_SESSION "bench" SB_SESSION_SUFFIX
#define SB_BUNDLE_LOGS    "logs"

/* Of all files together, unpacked: more is neither written nor opened. */
#define SB_BUNDLE_MOST_BYTES ((guint64) 4 << 30)

/* Likewise: a few kilobytes may stand for as many files as one likes. */
#define SB_BUNDLE_MOST_ENTRIES 100000
