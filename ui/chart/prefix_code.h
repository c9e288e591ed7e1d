/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prefix codes of a deflate stream (RFC 1951, 3.2.2): how long the code of each symbol is, and the code itself.
 * Integers alone and a fixed order among equals, so that every computer arrives at the same codes. */
#pragma once

#include <glib.h>

#define SB_PREFIX_LONGEST 15
#define SB_PREFIX_SYMBOLS 288 /* at most */

typedef struct {
  guint16 bits[SB_PREFIX_SYMBOLS];  /* of the code, the first one lowest, as the stream has them */
  guint8 length[SB_PREFIX_SYMBOLS]; /* 0: the symbol does not occur */
} SbPrefixCode;

/* A code for `n` symbols that occur `count` times, none longer than SB_PREFIX_LONGEST; two at least have to occur. */
void sb_prefix_code_init (SbPrefixCode *code, const guint32 *count, guint n);
