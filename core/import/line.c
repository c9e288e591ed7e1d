/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "line.h"

gboolean
sb_line_find (const char *from, const char *end, gboolean at_end_of_file, SbLine *line)
{
  const char *p = from;
  while (p < end && *p != '\n' && *p != '\r')
    p++;
  /* The LF of a CR LF may be in the next block. */
  gboolean open = p == end || (*p == '\r' && p + 1 == end);
  if (open && !at_end_of_file)
    return FALSE;
  *line = (SbLine){ .text = from, .length = (gsize) (p - from), .next = p == end ? p : p + 1 };
  if (line->next < end && p < end && *p == '\r' && *line->next == '\n')
    line->next++;
  return TRUE;
}
