/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same as sb_plain_rows_read, for processors with AVX2 and BMI2 and for delimiters that are one character. Compiled
 * for them apart from everything else. */
#pragma once

#include "rows.h"

/* More than this many bytes behind the end of the text are looked at. */
#define SB_WINDOW_SIZE 64

const char *sb_plain_windows_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines);
