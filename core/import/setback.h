/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the clock of a recording was set back and went on: rows come whose times were there already, with other values.
 * They are left out, as every row is that does not follow the last one; but what follows them may be later than it
 * says. Rows that say what was said at their time, and rows that fill a gap, were sent twice or late: their times are
 * right. A fall into the first half of a recording begins another one (restart.h). */
#pragma once

#include "channel.h"

#include <glib.h>

/* Fewer rows are not told: they are no more than jitter. */
#define SB_SETBACK_ROWS 4

typedef struct {
  gsize row;      /* the first row behind it, an index of the rows kept */
  guint64 line;   /* of the first row that was there already */
  guint64 n_rows; /* how many were */
} SbSetback;

/* Whether row `n_rows`, which does not follow those before it, contradicts them. The columns are NULL where there is no
 * such channel; the time's strictly increases up to n_rows. */
gboolean sb_setback_contradicts (double *const column[SB_N_CHANNELS], gsize n_rows);
