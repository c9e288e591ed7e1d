/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shape of the first rows, column by column: what the numbers themselves say of a column when its name says
 * nothing. */
#pragma once

#include "clock.h"
#include "unit.h"

#define SB_SHAPE_MOST_WORDS 32

/* The cells of one column in the first rows. */
typedef struct {
  guint n_rows;
  double *values;                    /* as written, without unit; NaN where the cell is no number */
  guint n_numbers;                   /* cells that are numbers */
  guint n_units;                     /* numbers with a unit behind them: the first one found, ... */
  guint n_other_units;               /* ... and others */
  const SbUnit *unit, *other_unit;   /* the first of each; NULL: none */
  guint n_clock_times;               /* cells that are clock times (clock.h) */
  guint n_words;                     /* other cells that are not empty */
  GPtrArray *words;                  /* char *: the different ones, at most SB_SHAPE_MOST_WORDS; NULL: none */
  guint n_of_form[SB_N_CLOCK_FORMS]; /* the clock times by how they are written */
} SbShape;

/* `n_columns` columns of `n_rows` empty cells. (transfer full) */
SbShape *sb_shapes_new (guint n_columns, guint n_rows);
void sb_shapes_free (SbShape *shapes, guint n_columns);

/* `text` is NUL-terminated; `decimal` and `thousands` as in SbLayout. */
void sb_shape_set_cell (SbShape *shape, guint row, const char *text, char decimal, char thousands);

/* How more than half of its clock times are written, SbClockForm; 0: there is no such form. */
guint sb_shape_clock_form (const SbShape *shape);

/* More of its cells are clock times than numbers: one bad stamp is one cell. */
gboolean sb_shape_is_clock (const SbShape *shape);

/* Nearly all cells are numbers, and there are enough of them to have a shape. */
gboolean sb_shape_is_numeric (const SbShape *shape);

/* It is numeric, and all of its numbers are whole. */
gboolean sb_shape_is_whole (const SbShape *shape);

typedef enum {
  SB_RISES_NOT,
  SB_RISES,        /* from row to row, steps between half and twice the usual one */
  SB_RISES_EVENLY, /* all steps alike within a hundredth */
  SB_RISES_BY_ONE, /* whole numbers, each one more than the one before */
} SbRise;

/* *step is the median step; may be NULL. */
SbRise sb_shape_rise (const SbShape *shape, double *step);

/* TRUE when the values stay on a few levels and jump between them seldom: a command. */
gboolean sb_shape_jumps (const SbShape *shape);

/* The largest difference, without sign, from one row to the next; *least and *most are the range of the values. */
double sb_shape_largest_step (const SbShape *shape, double *least, double *most);

/* How well `b` is `factor` times the change of `a` by `time`: their correlation, 0 when one does not change. */
double sb_shape_derivative (const SbShape *a, const SbShape *b, const SbShape *time, double *factor);

/* The correlation of two columns, -1..1; 0 when one does not change. */
double sb_shape_correlation (const SbShape *a, const SbShape *b);
