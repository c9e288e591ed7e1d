/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lines of very many points cover of a picture of pixels. Such a line goes up and down within each pixel column,
 * so that all there is to see of it is from where to where it reaches: that is kept for each third of a column, widened
 * by the pen, and turned into coverage. A path of as many points would cost ten times as much. Plain arithmetic; knows
 * no cairo. */
#pragma once

#include <glib.h>

#define SB_INK_SLICES 3 /* of a pixel column */

typedef struct {
  gsize n_slices;
  float *top, *bottom; /* in pixels from the top of the picture, top <= bottom; NaN: nothing is there */
} SbInk;

void sb_ink_init (SbInk *ink, gsize n_columns); /* nothing anywhere */
void sb_ink_clear (SbInk *ink);

/* How far it goes up and down in all, in pixels: of each column once. */
double sb_ink_travel (const SbInk *ink);

/* Slices side by side that do not meet are joined half way, as the line between them joins them. */
void sb_ink_join (SbInk *ink);

/* As a round pen of this radius in pixels draws it. */
void sb_ink_widen (SbInk *ink, double radius);

/* A part of the picture: pixel columns and rows from the first up to the end, which is not in it. */
typedef struct {
  int left, right, top, bottom;
} SbInkBox;

/* Narrows box->top and box->bottom to the rows that are covered between its left and right. FALSE: none. */
gboolean sb_ink_rows (const SbInk *ink, SbInkBox *box);

/* Coverage is worked out in tiles of at most so many columns and rows: small enough to stay near the processor. */
#define SB_INK_TILE_COLUMNS 32
#define SB_INK_TILE_ROWS    128

/* Writes what the inks cover together of the box, which is not larger than a tile, 255 for a whole pixel. All of the
 * tile's columns are written in each row of the box, those right of it with nothing. */
void
sb_ink_fill (const SbInk *inks, gsize n_inks, const SbInkBox *box, guint8 mask[SB_INK_TILE_ROWS][SB_INK_TILE_COLUMNS]);
