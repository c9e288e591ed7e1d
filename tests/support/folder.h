/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cleaning up after tests that write files. */
#pragma once

#include <glib/gstdio.h>

/* Removes a folder and all in it; links are removed, not followed. */
static inline void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
      remove_folder (path);
    else
      g_unlink (path);
  }
  g_rmdir (folder);
}
