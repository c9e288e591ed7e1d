/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session_folders.h"

#include <string.h>

#define MOST_FOLDERS 8

static gboolean
is_within (const char *inner, const char *outer)
{
  gsize n = strlen (outer);
  return strncmp (inner, outer, n) == 0
         && (inner[n] == '\0' || inner[n] == G_DIR_SEPARATOR || outer[n - 1] == G_DIR_SEPARATOR);
}

/* The innermost folder that holds them all; NULL: there is none that may be looked through. (transfer full) */
static char *
common_folder (const GPtrArray *folders)
{
  char *common = folders->len > 0 ? g_strdup (g_ptr_array_index (folders, 0)) : NULL;
  for (guint i = 1; i < folders->len; i++)
    while (!is_within (g_ptr_array_index (folders, i), common)) {
      char *above = g_path_get_dirname (common);
      g_free (common);
      common = above;
    }
  if (common != NULL && is_within (g_get_home_dir (), common))
    g_clear_pointer (&common, g_free);
  return common;
}

GPtrArray *
sb_session_folders (const SbBench *bench)
{
  GPtrArray *folders = g_ptr_array_new_with_free_func (g_free);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      char *folder = g_path_get_dirname (sb_configuration_entry (configuration, t)->path);
      if (g_path_is_absolute (folder) && !g_ptr_array_find_with_equal_func (folders, folder, g_str_equal, NULL))
        g_ptr_array_add (folders, folder);
      else
        g_free (folder);
    }
  }
  char *common = common_folder (folders);
  if (folders->len > MOST_FOLDERS)
    g_ptr_array_set_size (folders, MOST_FOLDERS);
  if (common != NULL && !g_ptr_array_find_with_equal_func (folders, common, g_str_equal, NULL))
    g_ptr_array_insert (folders, 0, common);
  else
    g_free (common);
  return folders;
}
