/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays ink (ink.h) on a picture of pixels, in the source that is set and within the clip. Costs about as much as the
 * pixels that the ink covers. The pixels are blended here, not by a mask of cairo's: it is handed no mask, which would
 * have to be written and read once more, and what is covered by nothing or wholly is passed quickly. They come out as
 * cairo's. */
#pragma once

#include "ink.h"

#include <cairo.h>

/* FALSE: this is no picture of pixels of 8 bits a colour that cairo's numbers are the pixels of, the clip is none of
 * whole pixels, or the source is no plain colour. */
gboolean sb_lay_ink_can (cairo_t *cr);

/* One or two inks, each as wide as the frame, as one: where they overlap nothing is laid on twice. The frame is in
 * pixels of the picture. */
void sb_lay_ink (cairo_t *cr, const cairo_rectangle_int_t *frame, const SbInk *inks, gsize n);
