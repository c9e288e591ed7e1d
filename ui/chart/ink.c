/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ink.h"

#include <math.h>

#define WHOLE (255.0 / SB_INK_SLICES)

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
  double *top = wide->top + to, *bottom = wide->bottom + to;
  const double *ink_top = ink->top + from, *ink_bottom = ink->bottom + from;
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

static void
add (guint8 *pixel, double coverage)
{
  *pixel = (guint8) MIN (255, *pixel + (int) (coverage + 0.5));
}

void
sb_ink_fill (const SbInk *ink, const SbInkBox *box, guint8 *mask, gsize stride)
{
  int first = box->top, end = box->bottom;
  for (gsize s = SB_INK_SLICES * (gsize) box->left; s < SB_INK_SLICES * (gsize) box->right; s++) {
    double top = ink->top[s] > first ? ink->top[s] : first, bottom = ink->bottom[s] < end ? ink->bottom[s] : end;
    if (isnan (ink->top[s]) || !(top < bottom))
      continue;
    int from = (int) top, to = (int) bottom;
    guint8 *column = mask + s / SB_INK_SLICES - box->left;
    if (from == to) {
      add (column + (gsize) (from - first) * stride, WHOLE * (bottom - top));
      continue;
    }
    add (column + (gsize) (from - first) * stride, WHOLE * (from + 1 - top));
    for (int row = from + 1; row < to; row++)
      add (column + (gsize) (row - first) * stride, WHOLE);
    if (to < end)
      add (column + (gsize) (to - first) * stride, WHOLE * (bottom - to));
  }
}
