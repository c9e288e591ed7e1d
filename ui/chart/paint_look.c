/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours are chosen for a white ground; what becomes of them on another, and in grey. */
#include "paint.h"

#include <math.h>

/* How light the dark ground is, and what is black on a white one. */
#define DARK_GROUND 0.10
#define DARK_INK    0.97

/* What stands out on white by 3 : 1 or more (WCAG 2.1, 1.4.11), as data do and the grid does not, stands out on dark by
 * this or more: thin dots of less are lost. */
#define DATA_ON_WHITE 3.0
#define DATA_ON_DARK  5.5
#define LIGHTER       0.04

static double
luminance (SbColour colour)
{
  const double part[] = { colour.red, colour.green, colour.blue }, share[] = { 0.2126, 0.7152, 0.0722 };
  double sum = 0;
  for (int i = 0; i < 3; i++)
    sum += share[i] * (part[i] <= 0.04045 ? part[i] / 12.92 : pow ((part[i] + 0.055) / 1.055, 2.4));
  return sum;
}

static SbColour
made_to_stand_out (SbColour colour)
{
  double wanted = DATA_ON_DARK * (luminance ((SbColour){ DARK_GROUND, DARK_GROUND, DARK_GROUND }) + 0.05) - 0.05;
  while (luminance (colour) < wanted)
    colour = (SbColour){ colour.red + LIGHTER * (1 - colour.red), colour.green + LIGHTER * (1 - colour.green),
                         colour.blue + LIGHTER * (1 - colour.blue) };
  return colour;
}

/* The same hue and chroma at the lightness (HSL) that stands against the dark ground as its own does against white. */
static SbColour
on_dark (SbColour colour)
{
  double lightest = fmax (colour.red, fmax (colour.green, colour.blue));
  double darkest = fmin (colour.red, fmin (colour.green, colour.blue));
  double lightness = (lightest + darkest) / 2;
  double shift = DARK_INK + (DARK_GROUND - DARK_INK) * lightness - lightness;
  SbColour shown
      = { CLAMP (colour.red + shift, 0, 1), CLAMP (colour.green + shift, 0, 1), CLAMP (colour.blue + shift, 0, 1) };
  return 1.05 / (luminance (colour) + 0.05) >= DATA_ON_WHITE ? made_to_stand_out (shown) : shown;
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
  SbColour shown = sb_ground_is_dark (paint->model->paper.ground) ? on_dark (colour) : colour;
  if (paint->model->paper.grey)
    shown = in_grey (shown);
  cairo_set_source_rgba (paint->cr, shown.red, shown.green, shown.blue, alpha);
}
