/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edit of the two points of the chart, one step of the history. */
#pragma once

#include "document.h"

typedef struct {
  guint configuration; /* of the bench */
  SbChartPoint point;
} SbPlacedPoint;

/* The first n of the two points, in place of those that were put; 0 takes them away. */
void sb_edit_set_points (SbDocument *document, const SbPlacedPoint *points, guint n);
