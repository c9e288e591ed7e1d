/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which measures the table has, and what its rows and columns are ordered by. None of it shapes a number. */
#pragma once

#include "measure_table.h"

typedef enum {
  SB_ROWS_AS_DEFINED, /* as docs/methods.md has them */
  SB_ROWS_BY_NAME,
  SB_ROWS_BY_P,      /* smallest first, after Holm's correction; what is not compared last */
  SB_ROWS_BY_EFFECT, /* largest Hedges' g first, whatever its sign; what has none last */
  SB_N_ROW_ORDERS,
} SbRowOrder;

typedef enum {
  SB_COLUMNS_AS_LISTED, /* in the order of the configurations */
  SB_COLUMNS_RISING,    /* by the mean of one measure */
  SB_COLUMNS_FALLING,
  SB_N_COLUMN_ORDERS,
} SbColumnOrder;

/* All zero: every measure, as defined, configurations as listed. */
typedef struct {
  guint hidden; /* bit mask, 1u << SbMeasureId; never all */
  SbRowOrder rows;
  SbColumnOrder columns;
  SbMeasureId columns_by;
} SbTableChoices;

const char *sb_row_order_key (SbRowOrder order);       /* "by p": JSON */
const char *sb_row_order_words (SbRowOrder order);     /* "Smallest p first": a control */
const char *sb_column_order_key (SbColumnOrder order); /* "rising" */
