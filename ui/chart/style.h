/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How configurations are told apart: colours after Okabe & Ito 2008, which hold for colour-blind readers, with a dash
 * of its own for each, which holds in grey print. */
#pragma once

#include <glib.h>

typedef struct {
  double red, green, blue; /* 0..1 */
} SbColour;

typedef struct {
  SbColour colour;    /* on a white ground */
  const double *dash; /* in multiples of the line width; n_dash 0: solid */
  int n_dash;
  const char *name; /* "blue, solid": for assistive technology and the colour menu */
} SbStyle;

#define SB_N_STYLES 12

/* Of what belongs to no configuration: black, solid. */
#define SB_STYLE_INK G_MAXUINT

/* By how much a dash is drawn smaller, or hardly larger, for a sample of `length` line widths to show whole periods of
 * it, two or more, the last without its gap. 1 of a solid line. */
double sb_style_sample_scale (const SbStyle *style, double length);

const SbStyle *sb_style_get (guint style); /* any number; taken modulo SB_N_STYLES */
