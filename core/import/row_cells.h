/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cells of a row that libcsv has split -> its values, or what is wrong with it. */
#pragma once

#include "rows.h"

/* Reads them into place n_rows of the values. FALSE when a cell is none; the row of `line` is left out in `log` then.
 */
gboolean sb_row_cells_read (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line);

/* The first number with a sign that shows what it is tells the decimal sign of the file. */
void sb_row_cells_learn_decimal (SbRows *rows, const SbCells *cells);

/* The time of a row; FALSE when its cell is none. */
gboolean sb_row_cells_time (SbRows *rows, const SbCells *cells, double *time_s);
