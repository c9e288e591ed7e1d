/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compresses the rows of a picture into a zlib stream (RFC 1950, RFC 1951). A chart's row is nearly that above it,
 * which this looks at first: it takes a fifth of zlib's time at the same size. It works with integers alone and holds
 * nothing over from what was in memory before: same rows, same bytes, on every computer. */
#pragma once

#include <glib.h>

typedef struct SbDeflate SbDeflate;

/* Rows of `row_bytes` bytes, whose pixels are `pixel_bytes` wide. */
SbDeflate *sb_deflate_new (gsize row_bytes, gsize pixel_bytes);

/* Where the next row is to be written, `row_bytes` and 8 more for a writer of whole words; borrowed. */
guint8 *sb_deflate_row (SbDeflate *deflate);

/* The row is written. */
void sb_deflate_push (SbDeflate *deflate);

/* The whole stream; frees the rest. (transfer full) */
GByteArray *sb_deflate_finish (SbDeflate *deflate);
