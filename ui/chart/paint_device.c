/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fine the picture is, and what follows for what is drawn on it. */
#include "paint.h"

#include <math.h>

/* Columns of a picture without pixels: those of print at 300 dpi. */
#define VECTOR_COLUMN_PT 0.24

/* Points that a line passes nearer than this are left out of it. */
#define TOLERANCE_PX        0.05
#define VECTOR_TOLERANCE_PT 0.03

/* Points farther out than this, in pt, are drawn here: cairo counts in 24.8 bits. */
#define FARTHEST_PT 1e5

double
sb_paint_px_per_pt (cairo_t *cr)
{
  double across = 1, down = 0;
  cairo_user_to_device_distance (cr, &across, &down);
  return fmax (hypot (across, down), 1e-3);
}

static gboolean
has_pixels (cairo_t *cr)
{
  return cairo_surface_get_type (cairo_get_target (cr)) == CAIRO_SURFACE_TYPE_IMAGE;
}

/* Where a pixel is cut in two, cairo makes a picture of the whole clip for all that is painted within it. */
void
sb_paint_clip (cairo_t *cr, const SbRect *rect)
{
  double left = rect->x, top = rect->y, right = rect->x + rect->width, bottom = rect->y + rect->height;
  cairo_user_to_device (cr, &left, &top);
  cairo_user_to_device (cr, &right, &bottom);
  cairo_save (cr);
  if (has_pixels (cr)) {
    cairo_identity_matrix (cr);
    cairo_rectangle (cr, round (left), round (top), round (right) - round (left), round (bottom) - round (top));
  } else {
    cairo_rectangle (cr, rect->x, rect->y, rect->width, rect->height);
  }
  cairo_restore (cr);
  cairo_clip (cr);
}

double
sb_paint_tolerance (cairo_t *cr)
{
  return has_pixels (cr) ? TOLERANCE_PX / sb_paint_px_per_pt (cr) : VECTOR_TOLERANCE_PT;
}

SbColumns
sb_paint_columns (cairo_t *cr, const SbPage *page, gsize i)
{
  double width = page->plot[i].width;
  double column = has_pixels (cr) ? 1 / sb_paint_px_per_pt (cr) : VECTOR_COLUMN_PT;
  return (SbColumns){ page->x[i].low, page->x[i].high, (gsize) fmax (1, ceil (width / column)) };
}

double
sb_paint_at (const SbAxisScale *scale, double value)
{
  return CLAMP (sb_axis_scale_at (scale, value), -FARTHEST_PT, FARTHEST_PT);
}
