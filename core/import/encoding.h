/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stored characters -> UTF-8, or bytes in which digits and delimiters are what they are in UTF-8.
 *
 * UTF-16 is turned into UTF-8 as it comes. Windows-1252 is left as it is: the numbers in it are the same bytes, and
 * the few names and remarks are turned into UTF-8 by sb_text_to_utf8 (log_build.h). */
#pragma once

#include "layout.h"

/* From the first bytes of a file: its byte order mark, where the zero bytes are, and whether the rest is UTF-8. */
SbEncoding sb_encoding_detect (const char *bytes, gsize n_bytes);

/* Half a character at the end of a block. */
typedef struct {
  guint8 odd_byte;
  gboolean has_odd_byte;
  guint16 high_surrogate;
} SbUtf16;

/* Bytes of UTF-8 that `n_bytes` of UTF-16 become at most. */
#define SB_UTF16_ROOM(n_bytes) (3 * ((n_bytes) / 2 + 2))

/* Appends to `utf8`, which has the room; how many bytes it took. A lone surrogate becomes U+FFFD. */
gsize sb_utf16_read (SbUtf16 *state, SbEncoding encoding, const char *bytes, gsize n_bytes, char *utf8);
