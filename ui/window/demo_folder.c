/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "demo_folder.h"

#include "session.h"

static char *
session_in (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, SB_SESSION_SUFFIX))
      return g_build_filename (folder, name, NULL);
  return NULL;
}

static gboolean
has_folders (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR))
      return TRUE;
  }
  return FALSE;
}

char *
sb_demo_folder_find (void)
{
  const char *const folders[] = { g_getenv ("SLEWBENCH_DEMO_DIR"), SB_DEMO_INSTALL_DIR, SB_DEMO_SOURCE_DIR };
  for (guint i = 0; i < G_N_ELEMENTS (folders); i++) {
    if (folders[i] == NULL || !g_file_test (folders[i], G_FILE_TEST_IS_DIR))
      continue;
    char *session = session_in (folders[i]);
    if (session != NULL)
      return session;
    if (has_folders (folders[i]))
      return g_strdup (folders[i]);
  }
  return NULL;
}
