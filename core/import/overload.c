/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "overload.h"

#include <math.h>
#include <string.h>

#define LEAST_MARK   9.9e37
#define LARGEST_MARK 1.0e38
/* Two dashes are rather a cell without a value. */
#define LEAST_DASHES 3

gboolean
sb_overload_is_word (const char *text, gsize length)
{
  static const char *const words[]
      = { "ol", "ovl", "ovld", "ovr", "over", "overload", "overflow", "overrange", "inf", "infinity", "∞" };
  gsize n_dashes = 0;
  while (n_dashes < length && text[n_dashes] == '-')
    n_dashes++;
  if (n_dashes == length)
    return n_dashes >= LEAST_DASHES;
  if (*text == '-' || *text == '+') {
    text++;
    length--;
  }
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strlen (words[i]) == length && g_ascii_strncasecmp (words[i], text, length) == 0)
      return TRUE;
  return FALSE;
}

gboolean
sb_overload_is_number (double written)
{
  return fabs (written) >= LEAST_MARK && fabs (written) <= LARGEST_MARK;
}
