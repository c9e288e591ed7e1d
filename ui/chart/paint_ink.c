/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and bands of more points than the picture has pixels across, as ink (ink.h): what a frame costs does not grow
 * with their points. */
#include "ink.h"
#include "lay_ink.h"
#include "paint.h"

#include <math.h>
#include <string.h>

/* From this many points to a pixel column on. */
#define DENSE 0.25

/* From this many blocks to a slice on, where within its last one a slice ends is less than can be seen. */
#define MANY_BLOCKS 2

/* Values that lie farther out, in pixels, are as far as this. */
#define FARTHEST 1e6

#define DEVICE_LIMIT 32000 /* pixels */

/* The pixels of a plot, and how its data lie on them. */
typedef struct {
  cairo_matrix_t matrix;
  int left, top, width, height;
  SbAxisScale x, y;
} Grid;

/* FALSE: this is no picture of pixels, or one that they are not told of. */
static gboolean
find_grid (SbPaint *paint, const SbPage *page, gsize i, Grid *grid)
{
  cairo_get_matrix (paint->cr, &grid->matrix);
  const cairo_matrix_t *matrix = &grid->matrix;
  gboolean upright = matrix->xx > 0 && matrix->yy > 0 && fabs (matrix->xy) + fabs (matrix->yx) < 1e-12;
  if (!upright || page->x[i].logarithmic || page->y_log[i] || !sb_lay_ink_can (paint->cr))
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

/* Values over time, as curves and the sides of bands have them. */
typedef struct {
  const double *x, *y;
  const SbBlocks *blocks;
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

/* The level of the largest blocks of which there are many among n points; -1: of none. */
static int
level_for (const SbBlocks *blocks, gsize n)
{
  int level = blocks->extremes[0] != NULL ? SB_BLOCK_LEVELS - 1 : -1;
  while (level >= 0 && n >> sb_block_log2 (level) < MANY_BLOCKS)
    level--;
  return level;
}

#define FEW_LANES 4

/* Of the points from `first` to `end`, in blocks of the level: then up to where the last whole block ends, and what is
 * left is the next slice's. Returns the first point that did not count. */
static gsize
extremes_of_slice (const Line *line, int level, gsize first, gsize end, double *lowest, double *highest)
{
  int log2 = level < 0 ? 0 : sb_block_log2 (level);
  gsize to = end < line->n ? end >> log2 << log2 : end;
  if (to <= first)
    to = end;
  if (to - first < MANY_BLOCKS * SB_BLOCK) {
    sb_extremes_in_lanes (line->y + first, to - first, FEW_LANES, lowest, highest);
    return to;
  }
  if (level < 0 || ((first | to) & (((gsize) 1 << log2) - 1)) != 0) {
    sb_extremes_of (line->y, line->blocks, first, to, lowest, highest);
    return to;
  }
  double low = HUGE_VAL, high = -HUGE_VAL;
  const double *pairs = line->blocks->extremes[level];
  for (gsize b = first >> log2; b < to >> log2; b++) {
    low = pairs[2 * b] < low ? pairs[2 * b] : low;
    high = pairs[2 * b + 1] > high ? pairs[2 * b + 1] : high;
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

/* Rows from the top of the grid: of the value at the bottom of the plot, and on from there. */
typedef struct {
  double low, row_of_low, rows_per_unit;
} Rows;

static Rows
rows_of (const Grid *grid)
{
  const SbAxisScale *y = &grid->y;
  double row_of_low = sb_axis_scale_at (y, y->low) * grid->matrix.yy + grid->matrix.y0 - grid->top;
  double row_of_high = sb_axis_scale_at (y, y->high) * grid->matrix.yy + grid->matrix.y0 - grid->top;
  return (Rows){ y->low, row_of_low, (row_of_high - row_of_low) / (y->high - y->low) };
}

static inline float
row_of (const Rows *rows, double value)
{
  double row = rows->row_of_low + (value - rows->low) * rows->rows_per_unit;
  row = row < FARTHEST ? row : FARTHEST;
  return (float) (row > -FARTHEST ? row : -FARTHEST);
}

/* How many points of a line at equal times every slice has at least. */
static gsize
points_per_slice (const Line *line, const Grid *grid)
{
  double points = (time_at (grid, 1) - time_at (grid, 0)) / line->dx;
  return points < (double) line->n ? (gsize) points : line->n;
}

static void
trace (const Line *line, const Grid *grid, const gsize *starts, SbInk *ink)
{
  Rows rows = rows_of (grid);
  sb_ink_init (ink, (gsize) grid->width);
  gsize first = starts[0];
  int level = line->x == NULL ? level_for (line->blocks, points_per_slice (line, grid)) : -1;
  for (gsize s = 0; s < ink->n_slices; s++) {
    double lowest, highest;
    if (line->x != NULL)
      level = level_for (line->blocks, starts[s + 1] - first);
    if (starts[s + 1] > first)
      first = extremes_of_slice (line, level, first, starts[s + 1], &lowest, &highest);
    else
      lowest = highest = between (line, first, time_at (grid, (double) s + 0.5));
    if (!(lowest <= highest))
      continue;
    ink->top[s] = row_of (&rows, highest);
    ink->bottom[s] = row_of (&rows, lowest);
  }
}

static cairo_rectangle_int_t
frame_of (const Grid *grid)
{
  return (cairo_rectangle_int_t){ grid->left, grid->top, grid->width, grid->height };
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
    double middle = (double) (ink->top[s] + ink->bottom[s]) / 2, rise = isnan (middle - last) ? 0 : middle - last;
    along += sqrt (rise * rise + 1.0 / (SB_INK_SLICES * SB_INK_SLICES));
    last = middle;
    along = along < period ? along : along < 2 * period ? along - period : fmod (along, period);
    double at = along, step = fabs (rise) + 1.0 / SB_INK_SLICES;
    gsize k = 0;
    for (; k + 1 < n_dash && at >= dash_px[k]; k++)
      at -= dash_px[k];
    gboolean gap = k % 2 == 1 || at < pen_px / 2 - step / 2 || at > dash_px[k] - pen_px / 2 + step / 2;
    if (gap && (double) (ink->bottom[s] - ink->top[s]) <= dash_px[0])
      ink->top[s] = ink->bottom[s] = NAN;
  }
}

gboolean
sb_paint_ink_curve (SbPaint *paint, const SbPage *page, gsize i, const SbCurve *curve, double width,
                    const SbStyle *dash, double restless)
{
  const Line line = { curve->x, curve->y, &curve->blocks, curve->x0, curve->dx, curve->n_points };
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
  cairo_rectangle_int_t frame = frame_of (&grid);
  sb_lay_ink (paint->cr, &frame, &ink, 1);
  sb_ink_clear (&ink);
  return TRUE;
}

gboolean
sb_paint_ink_band (SbPaint *paint, const SbPage *page, gsize i, const SbBandArea *band, const SbBandInk *look)
{
  const Line upper = { band->x, band->upper, &band->upper_blocks, band->x0, band->dx, band->n_points };
  const Line lower = { band->x, band->lower, &band->lower_blocks, band->x0, band->dx, band->n_points };
  Grid grid;
  if (!find_grid (paint, page, i, &grid) || !is_dense (&upper, &grid))
    return FALSE;
  SbInk area, edges[2];
  cairo_rectangle_int_t frame = frame_of (&grid);
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
  sb_lay_ink (paint->cr, &frame, &area, 1);
  sb_ink_clear (&area);
  sb_paint_source (paint, look->colour, look->edge_alpha);
  for (int k = 0; k < 2; k++) {
    sb_ink_join (&edges[k]);
    sb_ink_widen (&edges[k], look->edge_width * paint->unit * grid.matrix.xx / 2);
  }
  sb_lay_ink (paint->cr, &frame, edges, 2);
  for (int k = 0; k < 2; k++)
    sb_ink_clear (&edges[k]);
  return TRUE;
}
