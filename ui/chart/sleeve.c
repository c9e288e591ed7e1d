/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sleeve.h"

#include <math.h>

void
sb_sleeve_start (SbSleeve *sleeve, double x, double y)
{
  sleeve->anchor_x = sleeve->last_x = x;
  sleeve->anchor_y = sleeve->last_y = y;
  sleeve->low = -HUGE_VAL;
  sleeve->high = HUGE_VAL;
  sleeve->is_pending = FALSE;
}

static void
take (SbSleeve *sleeve, double x, double y)
{
  double run = x - sleeve->anchor_x;
  if (run > 0) {
    sleeve->low = fmax (sleeve->low, (y - sleeve->tolerance - sleeve->anchor_y) / run);
    sleeve->high = fmin (sleeve->high, (y + sleeve->tolerance - sleeve->anchor_y) / run);
  } else {
    /* Straight up or down: whatever comes next, this point is drawn. */
    sleeve->low = HUGE_VAL;
    sleeve->high = -HUGE_VAL;
  }
  sleeve->last_x = x;
  sleeve->last_y = y;
  sleeve->is_pending = TRUE;
}

gboolean
sb_sleeve_add (SbSleeve *sleeve, double x, double y, double *draw_x, double *draw_y)
{
  double run = x - sleeve->anchor_x;
  double slope = (y - sleeve->anchor_y) / run;
  if (!sleeve->is_pending || (run > 0 && slope >= sleeve->low && slope <= sleeve->high)) {
    take (sleeve, x, y);
    return FALSE;
  }
  *draw_x = sleeve->last_x;
  *draw_y = sleeve->last_y;
  sb_sleeve_start (sleeve, *draw_x, *draw_y);
  take (sleeve, x, y);
  return TRUE;
}
