/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two points of the chart between which time, value and slope are told. Each is on a curve of one configuration,
 * told by panel and time, so that it stays with the data; the whole bench has at most one first and one second. */
#pragma once

#include "chart_choices.h"

/* What is drawn in the panel. */
typedef enum {
  SB_POINT_ON_CURVE,      /* the mean curve of the panel's channel */
  SB_POINT_ON_DIFFERENCE, /* other less reference */
  SB_POINT_ON_SLOPE,      /* the slope of the mean curve */
  SB_N_POINT_GROUNDS,
} SbPointGround;

typedef struct {
  gboolean is_put; /* FALSE: the rest says nothing */
  SbPanel panel;
  SbPointGround on;
  double time_s; /* after the onset */
} SbChartPoint;

#define SB_N_CHART_POINTS 2
