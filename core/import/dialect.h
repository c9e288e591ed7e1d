/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What single lines look like: which delimiter cuts them, whether they are names, units or numbers. */
#pragma once

#include "cells.h"
#include "unit.h"

/* In the order in which they are preferred when a line looks as good with either. */
#define SB_DELIMITERS   "\t;|, "
#define SB_N_DELIMITERS 5

typedef struct {
  guint n_cells;   /* without empty ones at the end */
  guint n_numbers; /* numbers in any style, clock times */
  guint n_words;   /* cells of anything else but nothing */
} SbLineShape;

/* TRUE for what looks like a number (number_style.h), with a unit behind it or without. */
gboolean sb_dialect_is_number (const char *text, gsize length, gboolean blanks_group);

/* Counts what is in the cells. */
SbLineShape sb_dialect_shape_of (const SbCells *cells, gboolean blanks_group);

/* Splits a line and counts what is in it; `cells` hold it afterwards. */
SbLineShape sb_dialect_shape (SbCells *cells, const char *line, gsize length, char delimiter);

/* Roles that the cells name, as a set of bits (1 << SbRole). Only the first cells are looked at. */
guint sb_dialect_roles (const SbCells *cells);

/* TRUE when the cells are units or say nothing, one of them is a unit we know, and none is a number. */
gboolean sb_dialect_is_units_row (const SbCells *cells);

/* TRUE when every cell is a unit we know or empty, and one is a unit. */
gboolean sb_dialect_is_all_units (const SbCells *cells);

/* TRUE when more cells are units we know than words that may be others, and the rest is empty. */
gboolean sb_dialect_is_mostly_units (const SbCells *cells);

/* TRUE when the first cell is a unit we know, in brackets. */
gboolean sb_dialect_begins_with_unit (const SbCells *cells);

/* TRUE when one of the cells is a unit with a power of ten in digits in front: "10us". */
gboolean sb_dialect_has_units_in_numbers (const SbCells *cells);

/* TRUE when the cells are names of columns: two different words or more, none of which stands for a missing value, and
 * no numbers. */
gboolean sb_dialect_is_names_row (const SbCells *cells, const SbLineShape *shape);

/* TRUE for two cells that are the name of a value and its unit, as lines before a table have them: "Vertical unit,V",
 * "Torque,Nm", "Mode,s". As a header of two columns they would name no time and a signal. */
gboolean sb_dialect_is_name_and_unit (const SbCells *cells);

/* TRUE for words that say unit, and behind them units we know or nothing: "Vertical Units,V,V"; half of them may be
 * unknown. One of them is of another quantity than time, and all where it is not `of_time_too`. */
gboolean sb_dialect_is_labelled_units (const SbCells *cells, gboolean of_time_too);

/* How many bytes at `line` begin a comment: the prefix, behind blanks. 0: it is none. */
gsize sb_dialect_comment_length (const char *line, gsize length, const char *prefix);

/* TRUE when a quote is opened and not closed in the line. */
gboolean sb_dialect_is_open (const char *line, gsize length, char quote);
