/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gives files, and the files in folders, to a fuzz target once more, by any compiler: replay FILE|FOLDER... */
#include "fuzz_target.h"

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>

static gboolean
replay_file (const char *path)
{
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize n_bytes;
  if (!g_file_get_contents (path, &bytes, &n_bytes, &error)) {
    fprintf (stderr, "replay: %s\n", error->message);
    return FALSE;
  }
  printf ("%s\n", path);
  fflush (stdout);
  /* A copy of exactly this size: a sanitizer sees a read behind its end. */
  g_autofree uint8_t *copy = g_memdup2 (bytes, n_bytes);
  LLVMFuzzerTestOneInput (copy, n_bytes);
  return TRUE;
}

/* How many files; -1 when one cannot be read. */
static int
replay (const char *path)
{
  g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
  int n_files = 0;
  if (folder == NULL)
    return replay_file (path) ? 1 : -1;
  for (const char *name; (name = g_dir_read_name (folder)) != NULL;) {
    g_autofree char *inside = g_build_filename (path, name, NULL);
    int n = replay (inside);
    if (n < 0)
      return -1;
    n_files += n;
  }
  return n_files;
}

int
main (int argc, char **argv)
{
  for (int i = 1; i < argc; i++) {
    /* A folder without files would pass and check nothing. */
    if (replay (argv[i]) < 1) {
      fprintf (stderr, "replay: nothing to replay in %s\n", argv[i]);
      return EXIT_FAILURE;
    }
  }
  return argc > 1 ? EXIT_SUCCESS : EXIT_FAILURE;
}
