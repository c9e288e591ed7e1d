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

const SbStyle *sb_style_get (guint style); /* any number; taken modulo SB_N_STYLES */
