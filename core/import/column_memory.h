/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Room for the values of a column: for the files of this folder only. */
#pragma once

#include "column_pool.h"

/* Room for `n_rows` values, in huge pages where the system has them and they are many. `old` (may be NULL) holds
 * `n_old` values, which are kept; it was made with the same `pool`, which may be NULL. */
double *sb_column_resize (SbColumnPool *pool, double *old, gsize n_old, gsize n_rows);

/* `values` may be NULL. */
void sb_column_free (SbColumnPool *pool, double *values);
