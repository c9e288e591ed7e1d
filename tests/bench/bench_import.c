/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast a log is read: bench_import [ROWS [REPEATS]].
 *
 * Writes a log of five columns (about 40 bytes a row) to the temporary folder, reads it REPEATS times and prints the
 * best. The cost of SHA-256 is taken on its own over the same bytes and subtracted for the second line. */
#include "log.h"

#include <glib/gstdio.h>
#include <math.h>
#include <nettle/sha2.h>
#include <stdio.h>
#include <stdlib.h>

static gboolean
write_log (const char *path, guint n_rows)
{
  GString *text = g_string_new ("time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm\n");
  g_autoptr (GRand) noise = g_rand_new_with_seed (1);
  for (guint i = 0; i < n_rows; i++) {
    double t = i * 0.0005;
    g_string_append_printf (text, "%.4f,%.3f,%.5f,%.4f,%.4f\n", t, fmod (t, 2.0) < 1.0 ? 0.0 : 8.0, sin (t),
                            12.0 * cos (9.0 * t) + g_rand_double_range (noise, -0.2, 0.2),
                            8.0 * sin (5.0 * t) + g_rand_double_range (noise, -0.1, 0.1));
  }
  gboolean written = g_file_set_contents (path, text->str, (gssize) text->len, NULL);
  g_string_free (text, TRUE);
  return written;
}

static void
print_speed (const char *what, double seconds, guint64 n_bytes, gsize n_rows)
{
  printf ("%-14s %7.1f ns/row  %7.1f MB/s  %.4f s\n", what, seconds / (double) n_rows * 1e9,
          (double) n_bytes / seconds * 1e-6, seconds);
}

/* Seconds for one pass; 0 when the log cannot be read. */
static double
time_read (const char *path, gsize *n_rows, guint64 *n_bytes)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SbLog) log = sb_log_read (path, NULL, NULL, NULL, &error);
  double seconds = (double) (g_get_monotonic_time () - start) * 1e-6;
  if (log == NULL) {
    fprintf (stderr, "%s\n", error->message);
    return 0.0;
  }
  *n_rows = log->n_rows;
  *n_bytes = log->size_bytes;
  return seconds;
}

/* Hashes 1 MiB as often as the file has them. */
static double
time_hash (guint64 n_bytes)
{
  gsize block_size = (gsize) 1 << 20;
  g_autofree guint8 *block = g_malloc0 (block_size);
  guint8 digest[SHA256_DIGEST_SIZE];
  struct sha256_ctx context;
  gint64 start = g_get_monotonic_time ();
  sha256_init (&context);
  for (guint64 done = 0; done < n_bytes; done += block_size)
    sha256_update (&context, MIN (block_size, n_bytes - done), block);
  sha256_digest (&context, sizeof digest, digest);
  return (double) (g_get_monotonic_time () - start) * 1e-6;
}

int
main (int argc, char **argv)
{
  guint n_rows_wanted = argc > 1 ? (guint) strtoul (argv[1], NULL, 10) : 1000000;
  guint n_repeats = argc > 2 ? (guint) strtoul (argv[2], NULL, 10) : 10;
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "bench-import.csv", NULL);
  double best_read = INFINITY, best_hash = INFINITY;
  gsize n_rows = 0;
  guint64 n_bytes = 0;
  if (!write_log (path, n_rows_wanted))
    return EXIT_FAILURE;
  for (guint i = 0; i < n_repeats; i++) {
    best_read = MIN (best_read, time_read (path, &n_rows, &n_bytes));
    best_hash = MIN (best_hash, time_hash (n_bytes));
  }
  g_unlink (path);
  if (n_rows == 0)
    return EXIT_FAILURE;
  print_speed ("with SHA-256", best_read, n_bytes, n_rows);
  print_speed ("SHA-256 alone", best_hash, n_bytes, n_rows);
  print_speed ("difference", best_read - best_hash, n_bytes, n_rows);
  return EXIT_SUCCESS;
}
