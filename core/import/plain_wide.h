/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same as sb_plain_windows_read, a whole row at once, for processors with SHA and the AVX-512 instructions of
 * plain_wide_cells.h. Compiled for them apart from everything else. */
#pragma once

#include "rows.h"

/* Whether the processor has them, and every column is kept row by row: so there are SB_N_CHANNELS at the most. */
gboolean sb_plain_wide_possible (const SbRows *rows);

const char *sb_plain_wide_read (SbRows *rows, const char *text, const char *end, guint64 *n_lines);
