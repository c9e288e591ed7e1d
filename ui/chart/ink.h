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
  double *top, *bottom; /* in pixels from the top of the picture, top <= bottom; NaN: nothing is there */
} SbInk;

void sb_ink_init (SbInk *ink, gsize n_columns); /* nothing anywhere */
void sb_ink_clear (SbInk *ink);

/* How far it goes up and down in all, in pixels: of each column once. */
double sb_ink_travel (const SbInk *ink);

/* Slices side by side that do not meet are joined half way, as the line between them joins them. */
void sb_ink_join (SbInk *ink);

/* As a round pen of this radius in pixels draws it. */
void sb_ink_widen (SbInk *ink, double radius);

/* Rows that it covers, from *first up to *end, within 0 to `height`. FALSE: none. */
gboolean sb_ink_rows (const SbInk *ink, int height, int *first, int *end);

/* Adds the coverage, 255 for a whole pixel, to a mask whose first row is row `first` and that ends before row `end`. */
void sb_ink_fill (const SbInk *ink, int first, int end, guint8 *mask, gsize stride);
