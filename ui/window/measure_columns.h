/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which columns the measures table has, in which order, and what stands in them. No widget here. */
#pragma once

#include "measure_cell.h"

typedef enum {
  SB_COLUMN_CONFIGURATION,
  SB_COLUMN_DIFFERENCE,
  SB_COLUMN_VERDICT,
} SbMeasureColumnKind;

typedef struct {
  SbMeasureColumnKind kind;
  guint configuration; /* of the results, for that kind */
} SbMeasureColumn;

/* Reference and other, their difference and the verdict, where they can be seen together; then the other drawn
 * configurations, in the order of the table's choices. SbMeasureColumn; (transfer full) */
GArray *sb_measure_columns_new (const SbAnalysis *results);

/* Borrowed: the heading in one line, and the column's word in a sentence. */
const char *sb_measure_column_title (const SbMeasureColumn *column, const SbAnalysis *results);
const char *sb_measure_column_word (const SbMeasureColumn *column, const SbAnalysis *results);

char *sb_measure_column_heading (const SbMeasureColumn *column, const SbAnalysis *results); /* in short lines */
char *sb_measure_column_detail (const SbMeasureColumn *column, const SbAnalysis *results);  /* below it */
/* The title whole; of difference and verdict what is compared. (transfer full) */
char *sb_measure_column_tooltip (const SbMeasureColumn *column, const SbAnalysis *results);
int sb_measure_column_style (const SbMeasureColumn *column, const SbAnalysis *results); /* -1: no curve */

SbMeasureCell sb_measure_column_cell (const SbMeasureColumn *column, const SbAnalysis *results, SbMeasureId id);

/* "N·m"; "ratio"; "" for what is counted or has no name for its unit. */
const char *sb_measure_unit_words (SbMeasureId id, SbUnits units);
