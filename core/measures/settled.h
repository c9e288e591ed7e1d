/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a torque settles: after the last time that it leaves the band about its top level. Of a torque whose noise would
 * leave the band by itself in more than one log of a hundred, the local mean is judged instead, a quadratic by least
 * squares over as many samples as that needs and over twice the transition at most. For the files of this folder only.
 */
#pragma once

#include "reading.h"

typedef struct {
  double band_nm;         /* half width */
  gsize half;             /* the local mean's window is 2 * half + 1 samples; 0: the torque as it is */
  double at_s, edge_nm;   /* last passage into the band (time of the log) and the edge that it is through */
  double bias_s;          /* how much later noise is expected to have made it */
  double early_s, late_s; /* noise might as well have made it one of these, in one log of a hundred each; NaN: not so */
  double uncertainty_s;   /* standard, without that of the onset; 0 where the noise is unknown */

  /* Where there is none: */
  gboolean noise_leaves; /* no such local mean is quiet enough */
  double enough_ratio;   /* half width, as a share of the step, that it would be quiet enough for */
  double end_off_nm;     /* distance from the top at the end */
} SbSettled;

/* FALSE when it does not settle within the active window, or that cannot be told for noise. */
gboolean sb_find_settled (const SbReading *reading, SbSettled *settled);
