/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fast way for regular rows: digits, sign, decimal sign, exponent, delimiter, line end, no quotes.
 *
 * It keeps a row only when libcsv and sb_rows_add would keep the same row with the same bits (tests/fuzz holds the two
 * against each other); it leaves every other line, faulty or merely unusual, to them. */
#pragma once

#include "rows.h"

/* Readable bytes wanted behind the end of the text, all 0. */
#define SB_PLAIN_PADDING 80

/* Reads rows from `text` up to `end`, adds the lines read to *n_lines, and returns the start of the first line it does
 * not want or that is not complete. */
const char *sb_plain_rows_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines);
