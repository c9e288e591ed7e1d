/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same as sb_plain_rows_read, for processors with AVX and BMI2 and for delimiters that are one character. Compiled
 * for them apart from everything else. */
#pragma once

#include "rows.h"

/* More than this many bytes behind the end of the text are looked at. */
#define SB_WINDOW_SIZE 64

const char *sb_plain_windows_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines);

/* One row of it into place n_rows of the values; the start of the next line, or NULL when the row is not plain. */
const char *sb_plain_windows_row (SbRows *rows, const char *text, const char *end);

/* Whether the processor can do what digest_steps.h asks of it. */
gboolean sb_digest_steps_possible (void);
