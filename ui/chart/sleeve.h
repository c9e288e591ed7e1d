/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Leaves out points that lie on the line between their neighbours, as near as the eye can tell: paths get shorter,
 * files smaller and strokes faster. One pass, no memory; every point left out lies within `tolerance` of what is drawn,
 * measured along y. x must not fall. */
#pragma once

#include <glib.h>

typedef struct {
  double tolerance;
  double anchor_x, anchor_y; /* drawn last */
  double last_x, last_y;     /* taken last, not drawn yet when is_pending */
  double low, high;          /* slopes from the anchor that pass all points taken since */
  gboolean is_pending;
} SbSleeve;

/* Begins a line at x, y, which the caller draws. */
void sb_sleeve_start (SbSleeve *sleeve, double x, double y);

/* Takes the next point. TRUE when a line to *draw_x, *draw_y has to be drawn first. */
gboolean sb_sleeve_add (SbSleeve *sleeve, double x, double y, double *draw_x, double *draw_y);
