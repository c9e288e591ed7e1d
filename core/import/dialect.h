/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a file is written: its delimiter, and the columns its header names. */
#pragma once

#include "rows.h"

/* The delimiter of a header line (UTF-8): the one that makes most channels of it; of equals the tab, then the
 * semicolon, then the comma, because a comma may be part of a name in files with other delimiters. */
char sb_dialect_find_delimiter (SbCells *cells, const char *header, gsize length);

/* Reads the header of `line` into log->columns and rows->columns. Of two columns with one channel the first counts and
 * the second is a fault. FALSE with SB_LOG_ERROR_NO_TIME or _NO_SIGNAL when it cannot be the header of a log. */
gboolean sb_dialect_read_header (SbRows *rows, SbLog *log, SbCells *cells, const char *header, gsize length,
                                 guint64 line, GError **error);

/* The line after the header may name the units ("s;Nm;rpm"): *is_units tells, and columns whose names have no unit take
 * them. FALSE with SB_LOG_ERROR_NOT_A_LOG when a unit does not suit its column. `cells` hold the line. */
gboolean sb_dialect_read_units (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line, gboolean *is_units,
                                GError **error);
