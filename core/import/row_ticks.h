/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The time of the rows as the count of a counter that begins again (ticks.h): what was written and what is kept. */
#pragma once

#include "rows.h"

/* One count of the time as written, in that of the channel; 0 for a clock time, or where no column is the time. */
double sb_row_ticks_size (const SbRows *rows);

/* The time of a row that says `time`, with the ends that the counter has passed; as if the sum had been written. */
double sb_row_ticks_shift (const SbRows *rows, double time);

/* The row is left out; it may be the first of the recording. */
void sb_row_ticks_pass_over (SbRows *rows, const SbCells *cells);

/* The last row was replaced by another. */
void sb_row_ticks_replace_last (SbRows *rows);

/* A row says `written`, which is before the last row's time. TRUE when the counter has begun again there. */
gboolean sb_row_ticks_begin_again (SbRows *rows, double written, guint64 line);

/* Tells in `log` that a counter was followed, and where. */
void sb_row_ticks_note (const SbRows *rows, SbLog *log);
