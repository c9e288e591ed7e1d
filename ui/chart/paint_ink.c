/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and bands of more points than the picture has pixels across, as ink (ink.h): what a frame costs does not grow
 * with their points. */
#include "ink.h"
#include "paint.h"

#include <math.h>
#include <string.h>

/* From this many points to a pixel column on. */
#define DENSE 0.25

/* From this many blocks (reduce.h) to a slice on, where within its last one a slice ends is less than can be seen. */
#define MANY_BLOCKS 2

/* Values that lie farther out, in pixels, are as far as this. */
#define FARTHEST 1e6

#define DEVICE_LIMIT 32000 /* pixels */

/* Masks grow by so many pixel columns; what one more costs, in pixels that are painted for nothing. */
#define BOX_STEP    32
#define BOX_COST_PX 8192

/* The pixels of a plot, and how its data lie on them. */
typedef struct {
  cairo_matrix_t matrix;
  int left, top, width, height;
  SbAxisScale x, y;
} Grid;

static gboolean
is_plain (cairo_t *cr, const cairo_matrix_t *matrix)
{
  cairo_surface_t *target = cairo_get_group_target (cr);
  double scale[2], offset[2];
  if (cairo_surface_get_type (target) != CAIRO_SURFACE_TYPE_IMAGE)
    return FALSE;
  cairo_surface_get_device_scale (target, &scale[0], &scale[1]);
  cairo_surface_get_device_offset (target, &offset[0], &offset[1]);
  return fabs (scale[0] - 1) + fabs (scale[1] - 1) + fabs (offset[0]) + fabs (offset[1]) < 1e-9 && matrix->xx > 0
         && matrix->yy > 0 && fabs (matrix->xy) + fabs (matrix->yx) < 1e-12;
}

/* FALSE: this is no picture of pixels, or one that they are not told of. */
static gboolean
find_grid (SbPaint *paint, const SbPage *page, gsize i, Grid *grid)
{
  cairo_get_matrix (paint->cr, &grid->matrix);
  if (!is_plain (paint->cr, &grid->matrix) || page->x[i].logarithmic || page->y_log[i])
    return FALSE;
  const SbRect *plot = &page->plot[i];
  double left = plot->x * grid->matrix.xx + grid->matrix.x0, width = plot->width * grid->matrix.xx;
  double top = plot->y * grid->matrix.yy + grid->matrix.y0, height = plot->height * grid->matrix.yy;
  if (!(fabs (left) < DEVICE_LIMIT && width < DEVICE_LIMIT && fabs (top) < DEVICE_LIMIT && height < DEVICE_LIMIT))
    return FALSE;
  grid->left = (int) floor (left);
  grid->width = (int) ceil (left + width) - grid->left;
  grid->top = (int) floor (top);
  grid->height = (int) ceil (top + height) - grid->top;
  grid->x = sb_page_x_scale (page, i);
  grid->y = sb_page_y_scale (page, i);
  return grid->width > 0 && grid->height > 0;
}

static double
time_at (const Grid *grid, double slice)
{
  double device = grid->left + slice / SB_INK_SLICES;
  return sb_axis_scale_value (&grid->x, (device - grid->matrix.x0) / grid->matrix.xx);
}

static double
row_of (const Grid *grid, double value)
{
  double row = sb_axis_scale_at (&grid->y, value) * grid->matrix.yy + grid->matrix.y0 - grid->top;
  return CLAMP (row, -FARTHEST, FARTHEST);
}

/* Values over time, as curves and the sides of bands have them. */
typedef struct {
  const double *x, *y, *blocks;
  double x0, dx;
  gsize n;
} Line;

static double
line_x (const Line *line, gsize i)
{
  return line->x != NULL ? line->x[i] : line->x0 + (double) i * line->dx;
}

/* Where the line between two points passes the middle of a slice without one. */
static double
between (const Line *line, gsize i, double at)
{
  if (i == 0 || i >= line->n)
    return NAN;
  double before = line_x (line, i - 1);
  return line->y[i - 1] + (at - before) / (line_x (line, i) - before) * (line->y[i] - line->y[i - 1]);
}

/* Of the points from `first` to `end`, in blocks where there are many: then up to where the last whole block ends, and
 * what is left is the next slice's. Returns the first point that did not count. */
static gsize
extremes_of_slice (const Line *line, gsize first, gsize end, double *lowest, double *highest)
{
  double low = HUGE_VAL, high = -HUGE_VAL;
  gsize to = end < line->n ? end / SB_BLOCK * SB_BLOCK : end;
  if (line->blocks == NULL || end - first < MANY_BLOCKS * SB_BLOCK) {
    for (gsize i = first; i < end; i++) {
      low = line->y[i] < low ? line->y[i] : low;
      high = line->y[i] > high ? line->y[i] : high;
    }
    to = end;
  } else if (first % SB_BLOCK != 0 || to % SB_BLOCK != 0) {
    sb_extremes_of (line->y, line->blocks, first, to, &low, &high);
  } else {
    for (gsize b = first / SB_BLOCK; b < to / SB_BLOCK; b++) {
      low = line->blocks[2 * b] < low ? line->blocks[2 * b] : low;
      high = line->blocks[2 * b + 1] > high ? line->blocks[2 * b + 1] : high;
    }
  }
  *lowest = low;
  *highest = high;
  return to;
}

/* Where the slices of a picture begin among the points of a curve. The curves of a chart mostly have the same times. */
typedef struct {
  Grid grid;
  const double *x;
  double x0, dx;
  gsize n;
  gsize *first; /* of each slice, and after the last the first point beyond */
} Starts;

static void
starts_free (gpointer data)
{
  Starts *starts = data;
  g_free (starts->first);
  g_free (starts);
}

/* The last that were found on this thread. */
static GPrivate last_starts = G_PRIVATE_INIT (starts_free);

static gboolean
are_of (const Starts *starts, const Line *line, const Grid *grid)
{
  return starts != NULL && line->x == NULL && starts->x == NULL && starts->n == line->n
         && memcmp (&starts->x0, &line->x0, sizeof line->x0) == 0
         && memcmp (&starts->dx, &line->dx, sizeof line->dx) == 0 && starts->grid.left == grid->left
         && starts->grid.width == grid->width && memcmp (&starts->grid.matrix, &grid->matrix, sizeof grid->matrix) == 0
         && memcmp (&starts->grid.x, &grid->x, offsetof (SbAxisScale, logarithmic)) == 0;
}

/* (transfer none: until the next call on this thread) */
static const gsize *
find_starts (const Line *line, const Grid *grid)
{
  Starts *starts = g_private_get (&last_starts);
  if (are_of (starts, line, grid))
    return starts->first;
  gsize n_slices = (gsize) grid->width * SB_INK_SLICES;
  starts = g_new0 (Starts, 1);
  *starts = (Starts){ *grid, line->x, line->x0, line->dx, line->n, g_new (gsize, n_slices + 1) };
  for (gsize s = 0; s <= n_slices; s++)
    starts->first[s] = sb_first_at_or_after (line->x, line->x0, line->dx, line->n, time_at (grid, (double) s));
  g_private_replace (&last_starts, starts);
  return starts->first;
}

static void
trace (const Line *line, const Grid *grid, const gsize *starts, SbInk *ink)
{
  sb_ink_init (ink, (gsize) grid->width);
  gsize first = starts[0];
  for (gsize s = 0; s < ink->n_slices; s++) {
    double lowest, highest;
    if (starts[s + 1] > first)
      first = extremes_of_slice (line, first, starts[s + 1], &lowest, &highest);
    else
      lowest = highest = between (line, first, time_at (grid, (double) s + 0.5));
    if (!(lowest <= highest))
      continue;
    ink->top[s] = row_of (grid, highest);
    ink->bottom[s] = row_of (grid, lowest);
  }
}

static void
apply_box (SbPaint *paint, const Grid *grid, const SbInk *inks, gsize n, const SbInkBox *box)
{
  cairo_surface_t *mask = cairo_image_surface_create (CAIRO_FORMAT_A8, box->right - box->left, box->bottom - box->top);
  cairo_surface_flush (mask);
  for (gsize k = 0; k < n; k++)
    sb_ink_fill (&inks[k], box, cairo_image_surface_get_data (mask), (gsize) cairo_image_surface_get_stride (mask));
  cairo_surface_mark_dirty (mask);
  cairo_mask_surface (paint->cr, mask, grid->left + box->left, grid->top + box->top);
  cairo_surface_destroy (mask);
}

/* The rows of some columns that any of the inks covers. */
static gboolean
find_box (const Grid *grid, const SbInk *inks, gsize n, int left, SbInkBox *box)
{
  *box = (SbInkBox){ left, MIN (left + BOX_STEP, grid->width), grid->height, 0 };
  for (gsize k = 0; k < n; k++) {
    SbInkBox one = { box->left, box->right, 0, grid->height };
    if (!sb_ink_rows (&inks[k], &one))
      continue;
    box->top = MIN (box->top, one.top);
    box->bottom = MAX (box->bottom, one.bottom);
  }
  return box->top < box->bottom;
}

static int
area (const SbInkBox *box)
{
  return (box->right - box->left) * (box->bottom - box->top);
}

/* `n` inks of the same width through one mask; they are cleared. A curve covers little of the box around it: it goes in
 * a few boxes side by side, as many as are worth their cost. */
static void
apply (SbPaint *paint, const Grid *grid, SbInk *inks, gsize n)
{
  SbInkBox all = { 0 }, next;
  cairo_save (paint->cr);
  cairo_identity_matrix (paint->cr);
  for (int left = 0; left < grid->width; left += BOX_STEP) {
    if (!find_box (grid, inks, n, left, &next))
      continue;
    SbInkBox both = { all.left, next.right, MIN (all.top, next.top), MAX (all.bottom, next.bottom) };
    if (area (&all) > 0 && area (&both) <= area (&all) + area (&next) + BOX_COST_PX) {
      all = both;
      continue;
    }
    if (area (&all) > 0)
      apply_box (paint, grid, inks, n, &all);
    all = next;
  }
  if (area (&all) > 0)
    apply_box (paint, grid, inks, n, &all);
  cairo_restore (paint->cr);
  for (gsize k = 0; k < n; k++)
    sb_ink_clear (&inks[k]);
}

static gboolean
is_dense (const Line *line, const Grid *grid)
{
  gsize first = sb_first_at_or_after (line->x, line->x0, line->dx, line->n, grid->x.low);
  gsize end = sb_first_at_or_after (line->x, line->x0, line->dx, line->n, grid->x.high);
  return (double) (end - first) > DENSE * grid->width;
}

/* Takes the gaps of a dash out, measured along the line; the round pen adds half its width at either end of a dash.
 * What goes up by more than a dash within a slice would vanish in a gap: it stays. */
static void
cut_dashes (SbInk *ink, const double *dash_px, gsize n_dash, double pen_px)
{
  double period = 0, along = 0, last = NAN; /* along: within a period */
  for (gsize k = 0; k < n_dash; k++)
    period += dash_px[k];
  for (gsize s = 0; s < ink->n_slices && period > 0; s++) {
    double middle = (ink->top[s] + ink->bottom[s]) / 2, rise = isnan (middle - last) ? 0 : middle - last;
    along += sqrt (rise * rise + 1.0 / (SB_INK_SLICES * SB_INK_SLICES));
    last = middle;
    along = along < period ? along : along < 2 * period ? along - period : fmod (along, period);
    double at = along, step = fabs (rise) + 1.0 / SB_INK_SLICES;
    gsize k = 0;
    for (; k + 1 < n_dash && at >= dash_px[k]; k++)
      at -= dash_px[k];
    gboolean gap = k % 2 == 1 || at < pen_px / 2 - step / 2 || at > dash_px[k] - pen_px / 2 + step / 2;
    if (gap && ink->bottom[s] - ink->top[s] <= dash_px[0])
      ink->top[s] = ink->bottom[s] = NAN;
  }
}

gboolean
sb_paint_ink_curve (SbPaint *paint, const SbPage *page, gsize i, const SbCurve *curve, double width,
                    const SbStyle *dash, double restless)
{
  const Line line = { curve->x, curve->y, curve->blocks, curve->x0, curve->dx, curve->n_points };
  Grid grid;
  if (!find_grid (paint, page, i, &grid) || !is_dense (&line, &grid))
    return FALSE;
  double pen_px = width * paint->unit * grid.matrix.xx, dash_px[SB_MAX_DASH];
  SbInk ink;
  const gsize *starts = find_starts (&line, &grid);
  trace (&line, &grid, starts, &ink);
  gboolean dashed = dash != NULL && dash->n_dash > 0 && sb_ink_travel (&ink) < restless * grid.width;
  sb_ink_join (&ink);
  gsize n_dash = dashed ? (gsize) MIN (dash->n_dash, SB_MAX_DASH) : 0;
  for (gsize k = 0; k < n_dash; k++)
    dash_px[k] = dash->dash[k] * pen_px;
  if (dashed)
    cut_dashes (&ink, dash_px, n_dash, pen_px);
  sb_ink_widen (&ink, pen_px / 2);
  apply (paint, &grid, &ink, 1);
  return TRUE;
}

gboolean
sb_paint_ink_band (SbPaint *paint, const SbPage *page, gsize i, const SbBandArea *band, const SbBandInk *look)
{
  const Line upper = { band->x, band->upper, band->upper_blocks, band->x0, band->dx, band->n_points };
  const Line lower = { band->x, band->lower, band->lower_blocks, band->x0, band->dx, band->n_points };
  Grid grid;
  if (!find_grid (paint, page, i, &grid) || !is_dense (&upper, &grid))
    return FALSE;
  SbInk area, edges[2];
  const gsize *starts = find_starts (&upper, &grid);
  trace (&upper, &grid, starts, &edges[0]);
  trace (&lower, &grid, starts, &edges[1]);
  sb_ink_init (&area, (gsize) grid.width);
  for (gsize s = 0; s < area.n_slices; s++) {
    if (isnan (edges[0].top[s]) || isnan (edges[1].top[s]))
      continue;
    area.top[s] = edges[0].bottom[s] = edges[0].top[s];
    area.bottom[s] = edges[1].top[s] = edges[1].bottom[s];
  }
  sb_paint_source (paint, look->colour, look->area_alpha);
  apply (paint, &grid, &area, 1);
  sb_paint_source (paint, look->colour, look->edge_alpha);
  for (int k = 0; k < 2; k++) {
    sb_ink_join (&edges[k]);
    sb_ink_widen (&edges[k], look->edge_width * paint->unit * grid.matrix.xx / 2);
  }
  apply (paint, &grid, edges, 2);
  return TRUE;
}
