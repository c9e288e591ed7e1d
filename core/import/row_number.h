/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The number in one cell of a row, in the style of the file. */
#pragma once

#include "rows.h"

/* The whole of `text`, without blanks around it, times 10^power_of_ten, as the file writes its decimals and thousands.
 * FALSE when it is no number. */
gboolean sb_row_number_plain (const SbRows *rows, const char *text, gsize length, int power_of_ten, double *value);

/* As above, in the power of ten of column `index`; the column's unit may follow the number. Where no row before has its
 * thousands apart and this number does, rows->late_thousands is set and those behind are read so, too. FALSE when it is
 * no number; *other (borrowed) is the unit that follows it then, when that is another one, or NULL. */
gboolean
sb_row_number_read (SbRows *rows, const char *text, gsize length, guint index, double *value, const SbUnit **other);
