/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts of a time base: sample interval, jitter, gaps. Definitions: 'Time base' of docs/methods.md. */
#pragma once

#include <glib.h>

typedef struct {
  double sample_interval_s; /* median difference, rounded to the digits that the times themselves carry, 12 at most */
  double jitter_s;          /* 1.4826 * MAD of the differences; 0 when they differ by no more than rounding */
  double drift;             /* how much longer the interval is at the end than at the start, as a fraction of it; 0 when
                             * that is within the jitter */
  GArray *gaps;             /* SbGap: holes longer than three sample intervals; transfer full */
} SbTimeBase;

/* `n` >= 2 strictly rising times, s. */
SbTimeBase sb_time_base (const double *time_s, gsize n);
