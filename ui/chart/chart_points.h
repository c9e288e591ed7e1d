/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of repeats as points: what the panels of the spread and the sweep show. Values are in the measure's display
 * unit. `at` is where a figure stands on the other axis: in a spread the row, counted from the top with row i from i to
 * i + 1; in a sweep the level of the setting. */
#pragma once

#include "analysis.h"

/* A repeat's figure. */
typedef struct {
  guint configuration, trial; /* indices in the analysis */
  guint style, series;        /* series: which shape; of a sweep style too is the series' */
  double at, value;
  double aside;     /* of a sweep: a hair to either side of its level, in sizes of axis numbers */
  gboolean hollow;  /* of a repeat that was left out */
  gboolean doubted; /* of a lone repeat, which has no mean */
} SbPoint;

/* A configuration's mean with the 95 % interval of it. */
typedef struct {
  guint configuration, style, series;
  double at, mean;
  double low, high; /* NaN: no interval */
  gsize n;
  gboolean doubted; /* the figure has doubts */
} SbMeanMark;

typedef enum {
  SB_RULE_TREND,     /* Theil-Sen, over the repeats of a series */
  SB_RULE_IDENTITY,  /* measured as set; of a plan, the repeats so far */
  SB_RULE_STATED,    /* a stated figure, or a difference that is asked for */
  SB_RULE_TOLERANCE, /* an end of what counts as about that */
} SbRuleKind;

/* A straight line of the data: value = intercept + slope * at, from at[0] to at[1]; where an axis is logarithmic, a
 * trend is one of the decimal logarithms, so that it is straight on the chart. */
typedef struct {
  SbRuleKind kind;
  guint series, style;        /* of a trend: style gives the colour, series the dash */
  gboolean at_log, value_log; /* log₁₀ in place of the level, of the value */
  gboolean upright;           /* across the other way: at at[0], over all values; intercept and slope do not count */
  double at[2];
  double intercept, slope;
  char *label; /* beside a stated figure; NULL or "" when none */
  char *brief; /* the verdict alone, where there is no room for all of it */
} SbRule;

/* A row of a spread. */
typedef struct {
  guint configuration, style;
  char *name;
  gsize n; /* repeats that count */
} SbRow;

/* The shape of a series, as a word: "circles". Shapes repeat after SB_N_SHAPES. */
#define SB_N_SHAPES 5
const char *sb_shape_name (guint series);
const char *sb_shape_sign (guint series); /* "●" */
