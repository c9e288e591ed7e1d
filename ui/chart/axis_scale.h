/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data to lengths and back, and where an axis has its numbers. Plain arithmetic; knows no cairo. */
#pragma once

#include <glib.h>

/* `low` lies at `at_low`, `high` at `at_high`; a value axis has at_low > at_high, because y points down. */
typedef struct {
  double low, high;
  double at_low, at_high;
  gboolean logarithmic; /* low > 0; values of 0 and less lie nowhere (NaN or infinity) */
} SbAxisScale;

double sb_axis_scale_at (const SbAxisScale *scale, double value);
double sb_axis_scale_value (const SbAxisScale *scale, double at);

/* Ticks are at i * step, i = first .. last; step is 1, 2 or 5 times a power of ten. On a logarithmic axis they are at
 * 1, at 1, 2, 5 or at 1 to 9 of each power of ten. */
typedef struct {
  double step;
  int mantissa;       /* 1, 2 or 5 */
  int exponent;       /* step = mantissa * 10^exponent */
  gint64 first, last; /* last < first: none */
  int n_minor;        /* parts into which minor ticks divide a step */
  int per_decade;     /* 1, 3 or 9 on a logarithmic axis; else 0 */
} SbTicks;

/* The finest ticks of `low` .. `high` (low < high, finite) that number `max_n` (>= 2) or fewer. */
SbTicks sb_ticks_new (double low, double high, int max_n);

/* The same for a logarithmic axis, 0 < low; more than max_n when there are more powers of ten. */
SbTicks sb_ticks_new_log (double low, double high, int max_n);

double sb_ticks_value (const SbTicks *ticks, gint64 i);

/* "−0.2", with as many decimals as the step has; large or tiny numbers as "2×10⁶". (transfer full) */
char *sb_ticks_label (const SbTicks *ticks, gint64 i);
