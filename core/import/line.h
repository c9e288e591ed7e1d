/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines in a stretch of bytes: ended by LF, CR LF or CR. */
#pragma once

#include <glib.h>

/* A longer line is no row of a log; it is left out unread, so that memory stays bounded. */
#define SB_LINE_MAX (1 << 20)

typedef struct {
  const char *text;
  gsize length;     /* without the line end */
  const char *next; /* behind the line end */
} SbLine;

/* The line that begins at `from` (before `end`). FALSE when its end is not among the bytes and more may come. */
gboolean sb_line_find (const char *from, const char *end, gboolean at_end_of_file, SbLine *line);
