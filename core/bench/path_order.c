/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "path_order.h"

#include <string.h>

int
sb_path_order_natural (gconstpointer a, gconstpointer b)
{
  return strverscmp (*(const char *const *) a, *(const char *const *) b);
}

int
sb_path_order_bytes (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}
