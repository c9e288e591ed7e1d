/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves of any length brought down to what a row of pixels can show: per pixel column the smallest and the largest
 * value, or its ends where it only rises or falls. What is drawn from them covers the same pixels as all points would.
 * Allocates nothing. */
#pragma once

#include "chart_model.h"

/* Index of the first of n points at or after x. `x` NULL: points at x0 + i * dx. */
gsize sb_first_at_or_after (const double *x, double x0, double dx, gsize n, double at);

/* A point to be drawn; `starts`: no line leads to it. */
typedef void (*SbCurvePointFunc) (double x, double y, gboolean starts, gpointer user_data);
typedef void (*SbBandPointFunc) (double x, double lower, double upper, gboolean starts, gpointer user_data);

/* The time range that is drawn, cut into columns. */
typedef struct {
  double from, to;
  gsize n_columns;
} SbColumns;

/* Calls `point` along the curve: begins and ends at the edges of the range, where the line is interpolated. Columns
 * with four points or fewer are given whole. Of a column whose values lie within `flat`, one point is enough. */
void sb_reduce_curve (const SbCurve *curve, const SbColumns *columns, double flat, SbCurvePointFunc point,
                      gpointer user_data);

/* The same for a band: the smallest lower and the largest upper value of each column. */
void sb_reduce_band (const SbBandArea *band, const SbColumns *columns, SbBandPointFunc point, gpointer user_data);
