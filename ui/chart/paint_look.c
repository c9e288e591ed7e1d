/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours are chosen for a white ground; what becomes of them on another, and in grey. */
#include "paint.h"

#include <math.h>

/* How light the dark ground is, and what is black on a white one. */
#define DARK_GROUND 0.10
#define DARK_INK    0.97

/* The same hue and chroma at the lightness (HSL) that stands against the dark ground as its own does against white. */
static SbColour
on_dark (SbColour colour)
{
  double lightest = fmax (colour.red, fmax (colour.green, colour.blue));
  double darkest = fmin (colour.red, fmin (colour.green, colour.blue));
  double lightness = (lightest + darkest) / 2;
  double shift = DARK_INK + (DARK_GROUND - DARK_INK) * lightness - lightness;
  return (SbColour){ CLAMP (colour.red + shift, 0, 1), CLAMP (colour.green + shift, 0, 1),
                     CLAMP (colour.blue + shift, 0, 1) };
}

/* Luma of Rec. ITU-R BT.601, as grey printing has it. */
static SbColour
in_grey (SbColour colour)
{
  double luma = 0.299 * colour.red + 0.587 * colour.green + 0.114 * colour.blue;
  return (SbColour){ luma, luma, luma };
}

void
sb_paint_source (SbPaint *paint, SbColour colour, double alpha)
{
  SbColour shown = paint->model->paper.ground == SB_GROUND_DARK ? on_dark (colour) : colour;
  if (paint->model->paper.grey)
    shown = in_grey (shown);
  cairo_set_source_rgba (paint->cr, shown.red, shown.green, shown.blue, alpha);
}
