/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paths.h"

GStrv
sb_paths_copy (const char *const *paths)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  for (gsize i = 0; paths[i] != NULL; i++)
    g_strv_builder_add (builder, paths[i]);
  return g_strv_builder_end (builder);
}
