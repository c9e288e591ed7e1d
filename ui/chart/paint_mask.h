/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays ink (ink.h) on a picture of pixels, in the source that is set. Costs about as much as the pixels that the ink
 * covers: a curve covers few of the box around it, and what lies inside a band needs no mask. */
#pragma once

#include "ink.h"

#include <cairo.h>

/* One or two inks, each as wide as the frame, as one: where they overlap nothing is laid on twice. The frame is in
 * pixels of the picture. */
void sb_paint_mask (cairo_t *cr, const cairo_rectangle_int_t *frame, const SbInk *inks, gsize n);

/* One ink, the inside of which is filled in plain rectangles. The pixels are those of sb_paint_mask(). */
void sb_paint_mask_area (cairo_t *cr, const cairo_rectangle_int_t *frame, const SbInk *area);
