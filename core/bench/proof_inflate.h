/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unpacks what another program packed when it wrote a picture anew. */
#pragma once

#include <glib.h>

/* The text of the n_bytes at `bytes` in the zlib format (RFC 1950), a NUL behind it; NULL when they are not of it, are
 * cut off, or unpack to more than any proof has. (transfer full) */
char *sb_proof_inflate (const char *bytes, gsize n_bytes);
