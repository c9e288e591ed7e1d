/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All cells of a row at once, of up to 8 digits each: for plain_wide.c only. Compiled for AVX-512 apart from it, and
 * not inlined, so that the compiler clears the wide registers behind each call: SHA instructions take a hundred times
 * as long while they are in use. */
#pragma once

#include "rows.h"

/* A register of 64 bytes holds so many cells of 8 digits, or their values. */
#define SB_WIDE_LANES 8

G_STATIC_ASSERT ((int) SB_N_CHANNELS <= SB_WIDE_LANES);

typedef struct {
  gint64 power_of_ten[SB_WIDE_LANES];
  double factor[SB_WIDE_LANES];
  double values[SB_WIDE_LANES]; /* of one row */
} SbWideColumns;

/* The cells of the row at `text` into the values. Where the last one ends; NULL when they do not end within 64 bytes,
 * one has anything but up to 8 digits, a decimal sign and a minus in front, or a value is too large to be kept. */
const char *sb_wide_cells_read (const SbRows *rows, SbWideColumns *columns, const char *text);
