/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ink.h"

#include <math.h>
#include <string.h>

#define WHOLE (255 / SB_INK_SLICES) /* of a slice in a row; no rest */

/* In pixels: so little apart is together. */
#define HAIR 1e-4f

void
sb_ink_init (SbInk *ink, gsize n_columns)
{
  ink->n_slices = n_columns * SB_INK_SLICES;
  ink->top = g_new (float, ink->n_slices);
  ink->bottom = g_new (float, ink->n_slices);
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
    travel += isnan (ink->top[s]) ? 0 : (double) (ink->bottom[s] - ink->top[s]);
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

/* Where a line passes through a slice from one side to the other, half of what it rises there is on account of the
 * slice's own width, which the pen's would come on top of: narrows such slices by that. Written so that the compiler
 * can use vector instructions. */
static void
take_own_width (const SbInk *ink, float most, float *restrict top, float *restrict bottom)
{
  const float *restrict from = ink->top, *restrict to = ink->bottom;
  for (gsize s = 1; s + 1 < ink->n_slices; s++) {
    int falls = (from[s] >= to[s - 1] - HAIR) & (to[s] <= from[s + 1] + HAIR);
    int rises = (to[s] <= from[s - 1] + HAIR) & (from[s] >= to[s + 1] - HAIR);
    float half = (to[s] - from[s]) / 2, own = half < most ? half : most;
    own = falls | rises ? own : 0;
    top[s] = from[s] + own;
    bottom[s] = to[s] - own;
  }
}

/* Of two inks side by side: each slice of `wide` from slice `to` on reaches as far as those of `ink` from `from` on,
 * and `by` more. What is NaN reaches nowhere, comparisons with it being false. */
static void
spread (SbInk *wide, gsize to, const SbInk *ink, gsize from, float by)
{
  gsize n = wide->n_slices - MAX (to, from);
  float *restrict top = wide->top + to, *restrict bottom = wide->bottom + to;
  const float *restrict ink_top = ink->top + from, *restrict ink_bottom = ink->bottom + from;
  for (gsize s = 0; s < n; s++) {
    float up = ink_top[s] - by, down = ink_bottom[s] + by;
    top[s] = up < top[s] ? up : top[s];
    bottom[s] = down > bottom[s] ? down : bottom[s];
  }
}

void
sb_ink_widen (SbInk *ink, double radius)
{
  gsize n = ink->n_slices, reach = (gsize) (radius * SB_INK_SLICES);
  SbInk line = { n, g_memdup2 (ink->top, n * sizeof (float)), g_memdup2 (ink->bottom, n * sizeof (float)) };
  take_own_width (ink, (float) radius / 2, line.top, line.bottom);
  for (gsize s = 0; s < n; s++) {
    ink->top[s] = line.top[s] - (float) radius;
    ink->bottom[s] = line.bottom[s] + (float) radius;
  }
  if (reach > 0)
    for (gsize s = 0; s < n; s++) {
      ink->top[s] = isnan (ink->top[s]) ? HUGE_VALF : ink->top[s];
      ink->bottom[s] = isnan (ink->bottom[s]) ? -HUGE_VALF : ink->bottom[s];
    }
  for (gsize k = 1; k <= MIN (reach, n - 1); k++) {
    float by = (float) sqrt (fmax (radius * radius - pow ((double) k / SB_INK_SLICES, 2), 0));
    spread (ink, 0, &line, k, by);
    spread (ink, k, &line, 0, by);
  }
  if (reach > 0)
    for (gsize s = 0; s < n; s++) {
      gboolean nothing = !(ink->top[s] < HUGE_VALF);
      ink->top[s] = nothing ? NAN : ink->top[s];
      ink->bottom[s] = nothing ? NAN : ink->bottom[s];
    }
  sb_ink_clear (&line);
}

/* Values compared side by side, so that the compiler can use vector instructions. */
#define N_LANES 8

gboolean
sb_ink_rows (const SbInk *ink, SbInkBox *box)
{
  float top[N_LANES], bottom[N_LANES];
  for (int k = 0; k < N_LANES; k++) {
    top[k] = HUGE_VALF;
    bottom[k] = -HUGE_VALF;
  }
  gsize s = SB_INK_SLICES * (gsize) box->left, end = SB_INK_SLICES * (gsize) box->right;
  for (; s + N_LANES <= end; s += N_LANES)
    for (gsize k = 0; k < N_LANES; k++) {
      top[k] = ink->top[s + k] < top[k] ? ink->top[s + k] : top[k];
      bottom[k] = ink->bottom[s + k] > bottom[k] ? ink->bottom[s + k] : bottom[k];
    }
  for (; s < end; s++) {
    top[0] = ink->top[s] < top[0] ? ink->top[s] : top[0];
    bottom[0] = ink->bottom[s] > bottom[0] ? ink->bottom[s] : bottom[0];
  }
  for (int k = 1; k < N_LANES; k++) {
    top[0] = top[k] < top[0] ? top[k] : top[0];
    bottom[0] = bottom[k] > bottom[0] ? bottom[k] : bottom[0];
  }
  if (!(top[0] < (float) box->bottom && bottom[0] > (float) box->top && top[0] <= bottom[0]))
    return FALSE;
  box->top = top[0] > (float) box->top ? (int) floorf (top[0]) : box->top;
  box->bottom = bottom[0] < (float) box->bottom ? (int) ceilf (bottom[0]) : box->bottom;
  return box->top < box->bottom;
}

#define TILE_SLICES (SB_INK_TILE_COLUMNS * SB_INK_SLICES)

/* What a slice adds is noted where it begins and ends, and summed up downwards: a slice costs the same however tall it
 * is. */
typedef struct {
  gint16 change[SB_INK_TILE_ROWS + 2][SB_INK_TILE_COLUMNS]; /* of coverage, against the row above */
} Tile;

static void
change (Tile *tile, int row, int column, int by)
{
  tile->change[row][column] = (gint16) (tile->change[row][column] + by);
}

/* Where the slices of the box begin and end, in parts of a row, WHOLE to a row; where nothing is the end is not beyond
 * the beginning. Halves are rounded so that what a slice covers of a row is rounded up. */
static void
find_ends (const SbInk *ink, const SbInkBox *box, int *restrict top, int *restrict bottom)
{
  gsize first = SB_INK_SLICES * (gsize) box->left, n = SB_INK_SLICES * (gsize) (box->right - box->left);
  const float *restrict from = ink->top + first, *restrict to = ink->bottom + first;
  float box_top = (float) box->top, rows = (float) (box->bottom - box->top);
  int all = (box->bottom - box->top) * WHOLE;
  for (gsize s = 0; s < n; s++) {
    /* In this order NaN becomes the end of the box for what begins, and its start for what ends. */
    float begins = from[s] - box_top, ends = to[s] - box_top;
    begins = begins < rows ? begins : rows;
    begins = begins > 0 ? begins : 0;
    ends = ends > 0 ? ends : 0;
    ends = ends < rows ? ends : rows;
    top[s] = all - (int) (WHOLE * (rows - begins) + 0.5f);
    bottom[s] = (int) (WHOLE * ends + 0.5f);
  }
}

static void
note_ink (Tile *tile, const SbInk *ink, const SbInkBox *box)
{
  int top[TILE_SLICES], bottom[TILE_SLICES], n_columns = box->right - box->left;
  find_ends (ink, box, top, bottom);
  for (int s = 0; s < n_columns * SB_INK_SLICES; s++) {
    if (top[s] >= bottom[s])
      continue;
    int column = s / SB_INK_SLICES, from = (int) ((guint) top[s] / WHOLE), to = (int) ((guint) bottom[s] / WHOLE);
    int first = (from + 1) * WHOLE - top[s], last = bottom[s] - to * WHOLE;
    change (tile, from, column, first);
    change (tile, from + 1, column, WHOLE - first);
    change (tile, to, column, last - WHOLE);
    change (tile, to + 1, column, -last);
  }
}

void
sb_ink_fill (const SbInk *inks, gsize n_inks, const SbInkBox *box, guint8 mask[SB_INK_TILE_ROWS][SB_INK_TILE_COLUMNS])
{
  Tile tile;
  gint16 coverage[SB_INK_TILE_COLUMNS] = { 0 };
  int n_rows = box->bottom - box->top;
  g_assert (n_rows <= SB_INK_TILE_ROWS && box->right - box->left <= SB_INK_TILE_COLUMNS);
  memset (tile.change, 0, (gsize) (n_rows + 2) * sizeof tile.change[0]);
  for (gsize k = 0; k < n_inks; k++)
    note_ink (&tile, &inks[k], box);
  for (int row = 0; row < n_rows; row++)
    for (int x = 0; x < SB_INK_TILE_COLUMNS; x++) {
      coverage[x] = (gint16) (coverage[x] + tile.change[row][x]);
      mask[row][x] = (guint8) (coverage[x] < 255 ? coverage[x] : 255);
    }
}
