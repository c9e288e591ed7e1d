/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ink.h"

#include <math.h>
#include <string.h>

#define WHOLE (255 / SB_INK_SLICES) /* of a slice in a row; no rest */

void
sb_ink_init (SbInk *ink, gsize n_columns)
{
  ink->n_slices = n_columns * SB_INK_SLICES;
  ink->top = g_new (double, ink->n_slices);
  ink->bottom = g_new (double, ink->n_slices);
  for (gsize s = 0; s < ink->n_slices; s++)
    ink->top[s] = ink->bottom[s] = NAN;
}

void
sb_ink_clear (SbInk *ink)
{
  g_clear_pointer (&ink->top, g_free);
  g_clear_pointer (&ink->bottom, g_free);
}

double
sb_ink_travel (const SbInk *ink)
{
  double travel = 0;
  for (gsize s = 0; s < ink->n_slices; s++)
    travel += isnan (ink->top[s]) ? 0 : ink->bottom[s] - ink->top[s];
  return travel / SB_INK_SLICES;
}

void
sb_ink_join (SbInk *ink)
{
  for (gsize s = 1; s < ink->n_slices; s++) {
    /* Comparisons with NaN are false: gaps stay. */
    if (ink->bottom[s - 1] < ink->top[s])
      ink->bottom[s - 1] = ink->top[s] = (ink->bottom[s - 1] + ink->top[s]) / 2;
    else if (ink->top[s - 1] > ink->bottom[s])
      ink->top[s - 1] = ink->bottom[s] = (ink->top[s - 1] + ink->bottom[s]) / 2;
  }
}

/* Where a line passes through slice s from one side to the other, half of what it rises there is on account of the
 * slice's own width, which the pen's would come on top of. */
static double
own_width (const SbInk *ink, gsize s, double most)
{
  if (s == 0 || s + 1 >= ink->n_slices)
    return 0;
  double hair = 1e-9;
  gboolean falls = ink->top[s] >= ink->bottom[s - 1] - hair && ink->bottom[s] <= ink->top[s + 1] + hair;
  gboolean rises = ink->bottom[s] <= ink->top[s - 1] + hair && ink->top[s] >= ink->bottom[s + 1] - hair;
  double half = (ink->bottom[s] - ink->top[s]) / 2;
  return falls || rises ? MIN (half, most) : 0;
}

/* Of two inks side by side: each slice of `wide` from slice `to` on reaches as far as those of `ink` from `from` on,
 * and `by` more. What is NaN reaches nowhere, comparisons with it being false. */
static void
spread (SbInk *wide, gsize to, const SbInk *ink, gsize from, double by)
{
  gsize n = wide->n_slices - MAX (to, from);
  double *restrict top = wide->top + to, *restrict bottom = wide->bottom + to;
  const double *restrict ink_top = ink->top + from, *restrict ink_bottom = ink->bottom + from;
  for (gsize s = 0; s < n; s++) {
    double up = ink_top[s] - by, down = ink_bottom[s] + by;
    top[s] = up < top[s] ? up : top[s];
    bottom[s] = down > bottom[s] ? down : bottom[s];
  }
}

void
sb_ink_widen (SbInk *ink, double radius)
{
  gsize n = ink->n_slices, reach = (gsize) (radius * SB_INK_SLICES);
  double *own = g_new (double, n);
  for (gsize s = 0; s < n; s++)
    own[s] = own_width (ink, s, radius / 2);
  for (gsize s = 0; s < n; s++) {
    ink->top[s] += own[s];
    ink->bottom[s] -= own[s];
  }
  g_free (own);
  if (reach == 0) {
    for (gsize s = 0; s < n; s++) {
      ink->top[s] -= radius;
      ink->bottom[s] += radius;
    }
    return;
  }
  SbInk wide = { n, g_new (double, n), g_new (double, n) };
  for (gsize s = 0; s < n; s++) {
    wide.top[s] = HUGE_VAL;
    wide.bottom[s] = -HUGE_VAL;
  }
  for (gsize k = 0; k <= MIN (reach, n - 1); k++) {
    double by = sqrt (fmax (radius * radius - pow ((double) k / SB_INK_SLICES, 2), 0));
    spread (&wide, 0, ink, k, by);
    if (k > 0)
      spread (&wide, k, ink, 0, by);
  }
  for (gsize s = 0; s < n; s++)
    if (!(wide.top[s] < HUGE_VAL))
      wide.top[s] = wide.bottom[s] = NAN;
  sb_ink_clear (ink);
  *ink = wide;
}

gboolean
sb_ink_rows (const SbInk *ink, SbInkBox *box)
{
  double top = HUGE_VAL, bottom = -HUGE_VAL;
  for (gsize s = SB_INK_SLICES * (gsize) box->left; s < SB_INK_SLICES * (gsize) box->right; s++) {
    top = ink->top[s] < top ? ink->top[s] : top;
    bottom = ink->bottom[s] > bottom ? ink->bottom[s] : bottom;
  }
  if (!(top < box->bottom && bottom > box->top && top <= bottom))
    return FALSE;
  box->top = (int) floor (fmax (top, box->top));
  box->bottom = (int) ceil (fmin (bottom, box->bottom));
  return box->top < box->bottom;
}

gboolean
sb_ink_whole_rows (const SbInk *ink, SbInkBox *box)
{
  double top = box->top, bottom = box->bottom;
  for (gsize s = SB_INK_SLICES * (gsize) box->left; s < SB_INK_SLICES * (gsize) box->right; s++) {
    if (isnan (ink->top[s]))
      return FALSE;
    top = ink->top[s] > top ? ink->top[s] : top;
    bottom = ink->bottom[s] < bottom ? ink->bottom[s] : bottom;
  }
  if (!(top < bottom))
    return FALSE;
  box->top = (int) ceil (top);
  box->bottom = (int) floor (bottom);
  return box->top < box->bottom;
}

/* What a slice adds is noted where it begins and ends, and summed up downwards: a slice costs the same however tall it
 * is. A tile is small enough to stay near the processor. */
#define TILE_COLUMNS 32
#define TILE_ROWS    256

typedef struct {
  gint16 change[TILE_ROWS + 2][TILE_COLUMNS]; /* of coverage, against the row above */
} Tile;

static void
change (Tile *tile, int row, int column, int by)
{
  tile->change[row][column] = (gint16) (tile->change[row][column] + by);
}

static int
rounded (double coverage)
{
  return (int) (coverage + 0.5);
}

/* From `top` to `bottom`, in rows of the tile. */
static void
note_slice (Tile *tile, int column, double top, double bottom)
{
  int from = (int) top, to = (int) bottom;
  int first = rounded (WHOLE * ((from == to ? bottom : from + 1) - top)), last = rounded (WHOLE * (bottom - to));
  change (tile, from, column, first);
  if (from == to) {
    change (tile, from + 1, column, -first);
    return;
  }
  change (tile, from + 1, column, WHOLE - first);
  change (tile, to, column, last - WHOLE);
  change (tile, to + 1, column, -last);
}

static inline void
add_row (guint8 *restrict mask, const gint16 *restrict coverage, int n)
{
  for (int x = 0; x < n; x++) {
    gint16 sum = (gint16) (mask[x] + coverage[x]);
    mask[x] = (guint8) (sum < 255 ? sum : 255);
  }
}

static void
sum_up (const Tile *tile, int n_rows, int n_columns, guint8 *mask, gsize stride)
{
  gint16 coverage[TILE_COLUMNS] = { 0 };
  for (int row = 0; row < n_rows; row++, mask += stride) {
    for (int x = 0; x < TILE_COLUMNS; x++)
      coverage[x] = (gint16) (coverage[x] + tile->change[row][x]);
    /* A number that the compiler knows lets it use vector instructions. */
    if (n_columns == TILE_COLUMNS)
      add_row (mask, coverage, TILE_COLUMNS);
    else
      add_row (mask, coverage, n_columns);
  }
}

static void
fill_tile (const SbInk *ink, const SbInkBox *box, guint8 *mask, gsize stride)
{
  Tile tile;
  int n_rows = box->bottom - box->top;
  memset (tile.change, 0, (gsize) (n_rows + 2) * sizeof tile.change[0]);
  for (int column = 0; column < box->right - box->left; column++)
    for (gsize k = 0; k < SB_INK_SLICES; k++) {
      gsize s = SB_INK_SLICES * (gsize) (box->left + column) + k;
      double top = ink->top[s] - box->top, bottom = ink->bottom[s] - box->top;
      top = top > 0 ? top : 0;
      bottom = bottom < n_rows ? bottom : n_rows;
      if (!isnan (ink->top[s]) && top < bottom)
        note_slice (&tile, column, top, bottom);
    }
  sum_up (&tile, n_rows, box->right - box->left, mask, stride);
}

void
sb_ink_fill (const SbInk *ink, const SbInkBox *box, guint8 *mask, gsize stride)
{
  for (int top = box->top; top < box->bottom; top += TILE_ROWS)
    for (int left = box->left; left < box->right; left += TILE_COLUMNS) {
      SbInkBox tile = { left, MIN (left + TILE_COLUMNS, box->right), top, MIN (top + TILE_ROWS, box->bottom) };
      fill_tile (ink, &tile, mask + (gsize) (top - box->top) * stride + (left - box->left), stride);
    }
}
